"""No two finished copies share wood once every joint is cut.

What:
    The finished solids of two copies, with tenons added and mortises cut, share volume.

Why:
    Two tenons that meet in one leg, or a tenon that goes past its mate into a third part, look
    right on each part's own sheet and do not go together.

Limit:
    1 mm3, far above what rounding leaves and far below a shaving. Copies that stand inside one
    another as placed are left to the check of crossings.

Source:
    Chosen, and the reason stands with the limit.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from itertools import combinations

from manifold3d import Manifold

from benchleaf.checking.records import Check, Voice, show_places
from benchleaf.checking.unnamed import group_unnamed
from benchleaf.findings import Finding
from benchleaf.frames import Box
from benchleaf.joinery.records import Joinery
from benchleaf.joinery.solids import placed_solid
from benchleaf.piece.records import ContactKind

# chosen: rounding of coordinates leaves well under 0.001 mm3; a shaving is tens of mm3. mm3
_LEAST_MM3 = 1.0

_Shared = tuple[str, str, Manifold]


def find_collisions(joinery: Joinery) -> Iterator[Finding]:
    """Find finished copies that share wood."""
    voice = Voice(joinery.piece, "K202")
    groups: dict[tuple[str, str], list[_Shared]] = {}
    for first, second, shared in _shared(joinery):
        pair = (voice.part_named(first), voice.part_named(second))
        groups.setdefault(pair, []).append((first, second, shared))
    for pair, found in groups.items():
        yield _say(voice, pair, found)


def _shared(joinery: Joinery) -> Iterator[_Shared]:
    @cache
    def solid(mark: str) -> Manifold:
        return placed_solid(joinery, mark)

    for first, second in _candidates(joinery):
        common = solid(first) ^ solid(second)
        if common.volume() > _LEAST_MM3:
            yield first, second, common


def _candidates(joinery: Joinery) -> Iterator[tuple[str, str]]:
    """Pairs of copies whose blanks overlap, save those that cross without a joint."""
    crossing = {
        frozenset((contact.first, contact.second))
        for contacts in group_unnamed(joinery, ContactKind.CROSSING).values()
        for contact in contacts
    }
    placed = {
        mark: joinery.piece.copies[mark].frame.box_outward(cut.blank)
        for mark, cut in joinery.copies.items()
    }
    for (first, one), (second, other) in combinations(placed.items(), 2):
        if _overlap(one, other) and frozenset((first, second)) not in crossing:
            yield first, second


def _overlap(one: Box, other: Box) -> bool:
    return all(
        low < far and near < high
        for low, high, near, far in zip(one.low, one.high, other.low, other.high, strict=True)
    )


def _say(voice: Voice, pair: tuple[str, str], found: list[_Shared]) -> Finding:
    first, second = pair
    where = show_places([(one, other) for one, other, _ in found])
    low_x, low_y, low_z, high_x, high_y, high_z = found[0][2].bounding_box()
    extents = (high_x - low_x, high_y - low_y, high_z - low_z)
    # The solids are floats; what is shown is exact to 0.01 mm, finer than any rule.
    size = " x ".join(voice.show(Fraction(round(extent * 100), 100)) for extent in extents)
    return voice.error(
        f"parts.{voice.later_part(first, second)}",
        f"with all joints cut, {first} and {second} still share wood ({where}), within {size} "
        "(wide x deep x high)",
        "Needed: none. Shorten a tenon or a dowel, or move one of the joints.",
    )


CHECK = Check(
    code="K202",
    name="collisions",
    title="No two finished copies share wood once every joint is cut.",
    run=find_collisions,
)
