"""What shaping does to joints: wood taken from under a tenon, beside a mortise, where a mate bears.

Takes the cut copies and the joints worked out, gives findings F120 to F122. Knows no single family.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from manifold3d import Manifold

from benchleaf.findings import Finding
from benchleaf.forms import Bore, box_round, carry_form
from benchleaf.frames import Axis, Box
from benchleaf.joinery.records import CutCopy, Feature, JointFit
from benchleaf.piece.records import ContactKind, Piece
from benchleaf.piece.solids import solid_of_box, solid_of_form
from benchleaf.shaping.bench import Workpiece
from benchleaf.shaping.solids import waste_of

# chosen: a slice this thick tells what lies in a face, mm.
_SLICE_MM: Final = Fraction(1, 5)
# chosen: less than this of a face is an eased edge, not a loss.
_SHARE: Final = 0.05
# chosen: less than a crumb, mm3.
_CRUMB_MM3: Final = 1.0
# Shaping that only breaks an edge leaves the wall beside a hole as strong as it was.
_SMALL: Final = frozenset({"chamfer", "round over", "cove"})
# Holes that nothing else may break into; channels run out at the edges anyway.
_CLOSED: Final = frozenset({"mortise", "through hole"})


def check_shaped_joints(
    piece: Piece, copies: Mapping[str, CutCopy], fits: Iterable[JointFit]
) -> tuple[Finding, ...]:
    """Find where shaping spoils a joint.

    Args:
        piece: The placed piece.
        copies: The copies with their features and shaping.
        fits: The joints worked out.
    """
    listed = tuple(fits)
    found = [
        finding
        for copy in copies.values()
        if copy.shaping
        for finding in _Shaped(piece, copy, listed).findings()
    ]
    return tuple(dict.fromkeys(found))


@dataclass(frozen=True, slots=True)
class _Shaped:
    """One copy that is shaped, and its joints."""

    piece: Piece
    copy: CutCopy
    fits: tuple[JointFit, ...]

    def findings(self) -> Iterator[Finding]:
        part = self.piece.parts[self.copy.part]
        for chosen in part.shaping:
            work = Workpiece(part=part, plan=self.piece.plan, chosen=chosen)
            waste = Manifold()
            for cut in self.copy.shaping:
                if cut.index == chosen.index:
                    waste += waste_of(cut, work.body)
            waste ^= solid_of_box(work.body)
            if waste.volume() > _CRUMB_MM3:
                yield from self._against(waste, work)

    def _against(self, waste: Manifold, work: Workpiece) -> Iterator[Finding]:
        for feature in self.copy.features:
            if feature.adds:
                yield from self._under(feature, waste, work)
            elif isinstance(feature.shape, Bore) or feature.role in _CLOSED:
                yield from self._beside(feature, waste, work)
        for fit in self.fits:
            if self.copy.mark in (fit.contact.first, fit.contact.second):
                yield from self._where_it_bears(fit, waste, work)

    def _under(self, feature: Feature, waste: Manifold, work: Workpiece) -> Iterator[Finding]:
        """Wood that the joint adds stands on wood that is shaped away."""
        foot = _foot(box_round(feature.shape), work.body)
        if foot is None or _share(waste, foot) < _SHARE:
            return
        message = (
            f"the {work.chosen.kind} takes {_share(waste, foot):.0%} of the wood that the "
            f"{feature.role} for {self._mate(feature)} stands on"
        )
        needed = "Needed: whole wood behind it. Start the shaping farther off, or move the joint."
        yield work.refuse("F120", message, needed).finding

    def _beside(self, feature: Feature, waste: Manifold, work: Workpiece) -> Iterator[Finding]:
        hole = solid_of_form(feature.shape) ^ solid_of_box(work.body)
        named = f"the {feature.role} for {self._mate(feature)}"
        if (hole ^ waste).volume() > _CRUMB_MM3:
            message = f"the {work.chosen.kind} cuts into {named}"
            yield work.refuse("F121", message, "Move one of them, or make it smaller.").finding
            return
        wall = self.piece.plan.shop.wall_mm
        gap = hole.min_gap(waste, float(wall)) if not hole.is_empty() else float(wall)
        if work.chosen.kind not in _SMALL and gap < float(wall) - 1e-6:
            # chosen: to the tenth of a millimetre, which is what a rule tells.
            left = Fraction(round(gap * 10), 10)
            message = f"the {work.chosen.kind} leaves {work.show(left)} of wood beside {named}"
            yield work.warn("F121", message, f"Needed: at least {work.show(wall)}.")

    def _where_it_bears(self, fit: JointFit, waste: Manifold, work: Workpiece) -> Iterator[Finding]:
        contact = fit.contact
        if contact.kind is not ContactKind.FACE:
            return
        is_first = contact.first == self.copy.mark
        low, high = (-_SLICE_MM, Fraction(0)) if is_first else (Fraction(0), _SLICE_MM)
        slab = Box((Fraction(0), Fraction(0), low), (contact.u_mm, contact.v_mm, high))
        own = carry_form(slab, contact.frame, self.piece.copies[self.copy.mark].frame)
        share = _share(waste, solid_of_form(own))
        if share < _SHARE:
            return
        mate = contact.second if is_first else contact.first
        message = (
            f"the {work.chosen.kind} takes {share:.0%} of the face where "
            f"{self.piece.copies[mate].part} bears"
        )
        needed = "Needed: a flat face there. Stop the shaping short of it, or move the joint."
        yield work.warn("F122", message, needed)

    def _mate(self, feature: Feature) -> str:
        return self.piece.copies[feature.mate].part


def _share(waste: Manifold, of: Manifold) -> float:
    whole = float(of.volume())
    return float((waste ^ of).volume()) / whole if whole else 0.0


def _foot(added: Box, body: Box) -> Manifold | None:
    """A slice of the body under what a joint adds."""
    for axis in Axis:
        low, high = list(added.low), list(added.high)
        if added.low[axis] < body.low[axis] < added.high[axis] + _SLICE_MM:
            low[axis], high[axis] = body.low[axis], body.low[axis] + _SLICE_MM
        elif added.high[axis] > body.high[axis] > added.low[axis] - _SLICE_MM:
            low[axis], high[axis] = body.high[axis] - _SLICE_MM, body.high[axis]
        else:
            continue
        foot = Box((low[0], low[1], low[2]), (high[0], high[1], high[2])).meet(body)
        return solid_of_box(foot) if foot.is_solid() else None
    return None
