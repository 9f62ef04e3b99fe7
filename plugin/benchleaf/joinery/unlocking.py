"""What one straight slide does not open: several parts at once, two slides, or nothing.

Takes what stops what, gives for a set of copies how it comes apart, and remembers what does not.
Must not know trees.
"""

from __future__ import annotations

from dataclasses import replace

from benchleaf.joinery.blocking import Blocking
from benchleaf.joinery.closing_together import MOST_COPIES as MOST_CLOSING
from benchleaf.joinery.closing_together import find_closing
from benchleaf.joinery.locks import Lock, find_lock
from benchleaf.joinery.partings import NOWHERE, Parting
from benchleaf.joinery.two_slides import MOST_COPIES as MOST_SLIDING
from benchleaf.joinery.two_slides import Tries, find_two_slides

# chosen: pairs that a plan may have looked at for what is locked; some seconds.
_MOST_TRIES = 60_000


class Unlocking:
    """Ways out of what is locked; lives for one planning and looks only so often in all."""

    def __init__(self, blocking: Blocking) -> None:
        """Take what stops what."""
        self._blocking = blocking
        self._tries = Tries(left=_MOST_TRIES)
        self.locks: list[Lock] = []
        """What was found locked, in the order met."""

    def part(self, group: int) -> Parting:
        """Find how a set comes apart that no straight slide opens."""
        # What closes at once is looked for first: it is the more usual, and the sooner found.
        found = find_closing(group, self._blocking, self._tries) or find_two_slides(
            group, self._blocking, self._tries
        )
        if found is not None:
            return found
        most = min(MOST_CLOSING, MOST_SLIDING)
        is_searched = self._tries.left >= 0 and group.bit_count() <= most
        lock = replace(find_lock(group, self._blocking), is_searched=is_searched)
        self.locks.append(lock)
        moved = 1 << self._blocking.marks.index(lock.nearest)
        return Parting(sets=(moved, group & ~moved), ways=(NOWHERE, NOWHERE), is_locked=True)
