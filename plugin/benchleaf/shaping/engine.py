"""All shaping of a part, in the plan's order, and what is left of it.

Takes a part and the table of kinds, gives its cuts and findings F1xx. Knows no single kind.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from manifold3d import Manifold

from benchleaf.findings import Finding
from benchleaf.piece.records import Part
from benchleaf.piece.solids import solid_of_box
from benchleaf.reading.plan import Plan, StockKind
from benchleaf.reading.vocabulary import PlaceType
from benchleaf.shaping.bench import CannotShapeError, Workpiece
from benchleaf.shaping.records import FaceLine, Shaped, ShapedCut, ShapingKind
from benchleaf.shaping.short_grain import standing_out_mm
from benchleaf.shaping.solids import waste_of

_LAST = PlaceType.EDGES
# chosen: less than a crumb; floats leave far less, mm3.
_NOTHING_MM3 = 0.01


def work_part(
    part: Part, plan: Plan, kinds: Mapping[str, ShapingKind]
) -> tuple[tuple[ShapedCut, ...], tuple[Finding, ...]]:
    """Shape a part.

    Args:
        part: The part, with its chosen shaping.
        plan: For units and places.
        kinds: Kinds of shaping by code.

    Returns:
        The cuts, in the plan's order but edges last; and findings F101 to F109.
    """
    findings: list[Finding] = []
    lines: list[FaceLine] = []
    done: list[tuple[Workpiece, Shaped]] = []
    # In the shop edges come last, whatever the plan lists first: they follow the lines.
    for chosen in sorted(part.shaping, key=lambda one: kinds[one.kind].words.takes is _LAST):
        rims = tuple(rim for _, before in done for rim in before.rims)
        work = Workpiece(part=part, plan=plan, chosen=chosen, lines=tuple(lines), rims=rims)
        try:
            shaped = kinds[chosen.kind].shape(work)
        except CannotShapeError as refusal:
            findings.append(refusal.finding)
            continue
        done.append((work, shaped))
        lines += shaped.lines
        findings += shaped.findings
    findings += _check_wood(done)
    return tuple(cut for _, shaped in done for cut in shaped.cuts), tuple(findings)


def _check_wood(done: list[tuple[Workpiece, Shaped]]) -> Iterator[Finding]:
    """Whether each entry takes wood off, and one piece is left after all of them."""
    if not done:
        return
    body = solid_of_box(done[0][0].body)
    for work, shaped in done:
        rest = body - _waste(work, shaped)
        if body.volume() - rest.volume() < _NOTHING_MM3:
            message = f"the {work.chosen.kind} takes no wood away that is still there"
            yield work.warn("F102", message, "Leave it out, or move it to where there is wood.")
        pieces = [piece for piece in rest.decompose() if piece.volume() > _NOTHING_MM3]
        if len(pieces) != 1:
            left = "nothing" if not pieces else f"{len(pieces)} pieces"
            message = f"the {work.chosen.kind} leaves {left} of {work.part.name}"
            needed = "Needed: one piece. Make it smaller, or move it."
            yield work.refuse("F103", message, needed).finding
            return
        yield from _check_grain(work, body, rest)
        body = rest


def _check_grain(work: Workpiece, before: Manifold, after: Manifold) -> Iterator[Finding]:
    """Whether an entry leaves short grain; sheets have layers that cross."""
    if work.part.stock.kind is StockKind.SHEET:
        return
    out = standing_out_mm(after, work.part)
    if out > standing_out_mm(before, work.part):
        shown = work.show(Fraction(round(out)))
        message = (
            f"the {work.chosen.kind} leaves short grain: wood less than "
            f"{work.usual_words('1', '25')} long on the grain stands out {shown}"
        )
        needed = "Turn the grain along it, or leave more wood there."
        yield work.warn("F130", message, needed)


def _waste(work: Workpiece, shaped: Shaped) -> Manifold:
    waste = Manifold()
    for cut in shaped.cuts:
        waste += waste_of(cut, work.body)
    return waste
