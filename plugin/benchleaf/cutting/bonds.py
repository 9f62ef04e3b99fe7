"""Blanks that are cut together: runs that keep their figure, and parts from one piece of stock.

Takes the worked joints and all blanks, gives a `Bond` for each list of the plan that asks for
something that can be cut, and findings on the others. Must not know layouts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from benchleaf.cutting.records import Blank, Bond, Run
from benchleaf.findings import Finding, Severity
from benchleaf.joinery.records import Joinery
from benchleaf.reading.plan import Plan


def bonds_of(
    joinery: Joinery, blanks: Sequence[Blank]
) -> tuple[tuple[Bond, ...], tuple[Finding, ...]]:
    """List what is cut together, in the plan's order, and find what cannot be.

    A run takes all copies of its first part, then those of the second, and so on.
    """
    clerk = _Clerk(joinery, blanks)
    found = [*clerk.runs(), *clerk.one_piece()]
    bonds = tuple(one for one in found if isinstance(one, Bond))
    return bonds, tuple(one for one in found if isinstance(one, Finding))


@dataclass(frozen=True, slots=True)
class _Clerk:
    """Works through the plan's lists."""

    joinery: Joinery
    blanks: Sequence[Blank]

    @property
    def plan(self) -> Plan:
        """What the author wrote."""
        return self.joinery.piece.plan

    def runs(self) -> Iterator[Bond | Finding]:
        """Runs of figure."""
        for index, names in enumerate(self.plan.matched):
            path, own = f"grain matched[{index}]", self._blanks_of(names)
            wrong = self._not_single(path, names) or self._of_two_stocks(path, own)
            run = None if wrong else self._direction(own)
            if wrong:
                yield wrong
            elif run is None:
                yield self._find(
                    "C312",
                    path,
                    message="these parts are alike neither in length nor in width",
                    remedy="Needed: parts of one length side by side, or of one width end to end.",
                )
            elif len(own) > 1:
                yield Bond(path=path, labels=tuple(one.label for one in own), run=run)

    def one_piece(self) -> Iterator[Bond | Finding]:
        """Parts that come from one piece."""
        for index, names in enumerate(self.plan.one_piece):
            path, own = f"from one piece[{index}]", self._blanks_of(names)
            wrong = self._of_two_stocks(path, own)
            if wrong:
                yield wrong
            elif len(own) > 1:
                yield Bond(path=path, labels=tuple(one.label for one in own), run=None)

    def _blanks_of(self, names: Sequence[str]) -> list[Blank]:
        made = [one for one in self.blanks if not one.is_hardware]
        return [one for name in names for one in made if one.part == name]

    def _not_single(self, path: str, names: Sequence[str]) -> Finding | None:
        """Find a part that is no single piece of wood: its figure is that of its pieces."""
        made = [one for one in self.blanks if not one.is_hardware and one.part in names]
        several = next((one.part for one in made if one.layer > 1 or one.is_strip), None)
        if several is None:
            return None
        return self._find(
            "C310",
            path,
            message=f"`{several}` is glued up of several pieces, so no figure runs through it",
            remedy=f"Needed: parts of one piece each. Take `{several}` out of the list.",
        )

    def _of_two_stocks(self, path: str, own: Sequence[Blank]) -> Finding | None:
        stocks = tuple(dict.fromkeys(one.stock for one in own))
        if len(stocks) < 2:
            return None
        return self._find(
            "C311",
            path,
            message=f"these parts come from {len(stocks)} stocks: {', '.join(stocks)}",
            remedy="Needed: parts of one stock.",
        )

    def _direction(self, own: Sequence[Blank]) -> Run | None:
        """Side by side where lengths are alike, end to end where widths are; else as they stand."""
        one_length = len({one.length_mm for one in own}) < 2
        one_width = len({one.width_mm for one in own}) < 2
        if one_length and one_width:
            return Run.END if self._follow_along_grain(own) else Run.SIDE
        if one_length:
            return Run.SIDE
        return Run.END if one_width else None

    def _follow_along_grain(self, own: Sequence[Blank]) -> bool:
        """Tell whether the first two stand in the piece one behind the other along the grain."""
        if len(own) < 2:
            return False
        near, far = (self.joinery.piece.copies[one.copy].box for one in own[:2])
        axis = self.joinery.piece.part_of(own[0].copy).grain_axis
        apart = [
            abs(float(near.low[one] + near.high[one] - far.low[one] - far.high[one]))
            for one in range(3)
        ]
        return apart[axis] >= max(apart)

    def _find(self, code: str, path: str, *, message: str, remedy: str) -> Finding:
        return Finding(
            code=code,
            severity=Severity.ERROR,
            place=self.plan.place(path),
            subject=path,
            message=message,
            remedy=remedy,
        )
