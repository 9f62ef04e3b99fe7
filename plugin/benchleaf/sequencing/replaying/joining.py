"""Assembly on the bench: tried dry, held for pilot holes, brought together for good.

Takes operations, changes the bench and gives what stands against them. Must not know how joints
are cut.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf.cutting.blanks import FROM_RODS
from benchleaf.joinery.records import JointFit
from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.replaying.bench import SHARED, Bench
from benchleaf.sequencing.replaying.views import (
    UNGUIDED,
    closes,
    coated_first,
    comes_apart,
    fits_among,
    goes_in,
    merge,
)


def is_interrupted(operation: Operation, bench: Bench) -> Iterator[str]:
    """Refuse other work while a dry fit that is to grow stands on the bench."""
    if operation.kind == "dry-fit":
        return
    for held in bench.standing:
        yield f"{_names(held)} stand dry on the bench, to be tried with more"


def fit_dry(operation: Operation, bench: Bench) -> Iterator[str]:
    """Put parts together without glue."""
    copies = frozenset(operation.copies)
    for mark in operation.copies:
        if not bench.is_sized(mark):
            yield f"{mark} has not its final size"
        for feature in bench.uncut(mark):
            yield f"{mark} has no {feature.role} yet"
        if not bench.together[mark] <= copies:
            yield f"{mark} is glued in already"
    among = fits_among(copies, bench.joinery)
    yield from _without_pegs(among, bench)
    for fit in among:
        first, second = fit.contact.first, fit.contact.second
        if goes_in(fit) and bench.together[first] == bench.together[second]:
            yield f"{first} is glued before the whole is tried dry"
    yield from _stands_in_members(operation, bench)
    if any(copies <= held for held in bench.dry):
        yield f"{_names(copies)} have been tried dry already"
    _leave_standing(copies, bench)


def _stands_in_members(operation: Operation, bench: Bench) -> Iterator[str]:
    """Each member stands, but for what is only glued or screwed on to it later."""
    standing = {mark: held for held in bench.standing for mark in held}
    for member in operation.members:
        clusters = [standing.get(mark, bench.together[mark]) for mark in member]
        loose = [fit for fit in fits_among(member, bench.joinery) if fit.kind in UNGUIDED]
        if len(merge(clusters, [(fit.contact.first, fit.contact.second) for fit in loose])) > 1:
            yield f"{_names(member)} do not stand together yet"


def _leave_standing(copies: frozenset[str], bench: Bench) -> None:
    """Leave it standing if it is to be tried with more; a run comes apart when it is whole."""
    bench.dry.append(copies)
    bench.dry_to_come = [held for held in bench.dry_to_come if held != copies]
    bench.standing = [held for held in bench.standing if not held <= copies]
    if any(copies < held for held in bench.dry_to_come):
        bench.standing.append(copies)


def hold_for_pilots(operation: Operation, bench: Bench) -> Iterator[str]:
    """Hold parts in their places, to drill through one into the other."""
    yield from _are_members(operation, bench)
    yield from _not_ready(frozenset(m for member in operation.members for m in member), bench)


def join(operation: Operation, bench: Bench) -> Iterator[str]:
    """Bring parts together for good."""
    copies = frozenset(operation.joined)
    yield from _not_ready(copies, bench)
    yield from _are_members(operation, bench)
    # In order of marks, so that refusals come in the same order every time.
    clusters = list(dict.fromkeys(bench.together[mark] for mark in sorted(copies)))
    closing = [
        (index, fit) for index, fit in enumerate(bench.joinery.fits) if closes(fit, clusters)
    ]
    outside = frozenset().union(*clusters) - copies
    if outside:
        yield f"{', '.join(sorted(outside))} hang on to what is joined"
    if not {fit.joint for _, fit in closing} <= set(operation.joints):
        yield "it brings parts together that should stand together already"
    fits = [fit for _, fit in closing]
    yield from _without_pegs(fits, bench)
    if any(map(goes_in, fits)) and copies not in bench.dry:
        yield "it is glued without a dry fit"
    yield from _undrilled(fits, bench)
    if not comes_apart(clusters, fits):
        yield "no order of straight slides brings the parts together"
    bench.closed |= {index for index, _ in closing}
    for mark in copies:
        bench.together[mark] = copies


def _are_members(operation: Operation, bench: Bench) -> Iterator[str]:
    """What is brought together is there, each member whole, and no two of them joined yet."""
    for member in operation.members:
        clusters = {bench.together[mark] for mark in member}
        if len(clusters) > 1:
            yield f"{_names(member)} do not stand together yet"
        elif clusters and clusters != {frozenset(member)}:
            yield f"{_names(member)} hang together with more already"


def _names(marks: Iterable[str]) -> str:
    return ", ".join(sorted(marks))


def _without_pegs(fits: Iterable[JointFit], bench: Bench) -> Iterator[str]:
    is_pegged = any(item.kind in FROM_RODS for fit in fits for item in fit.hardware)
    if is_pegged and bench.pegs - bench.free:
        yield "its dowels are not cut yet"


def _not_ready(copies: frozenset[str], bench: Bench) -> Iterator[str]:
    for mark in sorted(copies):
        if not bench.is_sized(mark):
            yield f"{mark} has not its final size"
        if mark not in bench.smooth:
            yield f"{mark} has rough inside faces"
        for feature in bench.uncut(mark):
            yield f"{mark} has no {feature.role} yet"
    for mark in sorted(copies & coated_first(bench.joinery) - bench.coated):
        yield f"{mark} is closed in before its edges have a coat"


def _undrilled(fits: Iterable[JointFit], bench: Bench) -> Iterator[str]:
    pairs = {(f.joint, frozenset((f.contact.first, f.contact.second))) for f in fits}
    for mark, copy in bench.joinery.copies.items():
        for index, feature in enumerate(copy.features):
            pair = (feature.joint, frozenset((mark, feature.mate)))
            if feature.role in SHARED and pair in pairs and (mark, index) not in bench.cut:
                yield f"{mark} has no {feature.role} yet"
