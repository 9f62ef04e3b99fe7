"""Operations that are about the same work, parted into pages where the work changes.

Takes operations that may share a page, gives them page by page. Must not know kinds or titles.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby
from typing import Final

from benchleaf.sequencing.records import Operation

# chosen: what fits on a printed page beside its drawing, and is still read to its end.
MOST_ACTIONS: Final = 12


def part_into_pages(
    operations: Sequence[Operation], work_of: Callable[[Operation], str]
) -> Iterator[list[Operation]]:
    """Part operations into pages.

    Work of one sort begins on a new page where it would otherwise be torn apart, unless it fills
    more than a page anyway and the page is hardly begun.

    Args:
        operations: In order, all fit to share a page.
        work_of: What an operation is about; a page turns where that changes, if it can.
    """
    page: list[Operation] = []
    for _, same in groupby(operations, key=work_of):
        work = list(same)
        is_torn = page and not _fits([*page, *work])
        if is_torn and (_fits(work) or _count(page) * 2 >= MOST_ACTIONS):
            yield page
            page = []
        for operation in work:
            if page and not _fits([*page, operation]):
                yield page
                page = []
            page.append(operation)
    if page:
        yield page


def _fits(operations: Sequence[Operation]) -> bool:
    """Tell whether operations go on one page."""
    return _count(operations) <= MOST_ACTIONS


def _count(operations: Sequence[Operation]) -> int:
    """Actions to be shown; a twin of the operation before takes next to no room."""
    return sum(
        0 if _is_twin(before, operation) else len(operation.actions)
        for before, operation in zip([None, *operations], operations, strict=False)
    )


def _is_twin(before: Operation | None, operation: Operation) -> bool:
    """Tell whether an operation, such as the right frame after the left, only says `the same`."""
    return before is not None and before.kind == operation.kind and len(operation.actions) == 1
