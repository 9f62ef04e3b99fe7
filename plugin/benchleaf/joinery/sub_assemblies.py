"""Groups go together first, and then move as one: the proof in two storeys.

Takes the placed solids, the worked joints and what moves as one; gives the proof of the whole, with
that of each group in the place of its leaf. What slides or swings comes off before all else, so
that it goes in last. Must not know plans.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from manifold3d import Manifold, OpType

from benchleaf.joinery.assembly import Proof, find_stops, plan_assembly
from benchleaf.joinery.records import Assembly, JointFit

Unit = tuple[str, ...]


def plan_in_units(
    solids: Mapping[str, Manifold],
    fits: Iterable[JointFit],
    units: Sequence[Unit],
    *,
    movers: Sequence[Unit] = (),
) -> Proof:
    """Plan in which groups and directions the copies come together.

    Args:
        solids: The finished copies where they stand, by mark, in the piece's axes.
        fits: The joints between them.
        units: What moves as one: marks of groups, and of copies by themselves.
        movers: Those of them that slide or swing, in the order in which they come off.
    """
    listed = tuple(fits)
    if all(len(unit) == 1 for unit in units):
        return plan_assembly(solids, listed)
    own = {mark: unit[0] for unit in units for mark in unit}
    whole = plan_assembly(
        {unit[0]: _as_one([solids[mark] for mark in unit]) for unit in units},
        [_between(fit, own) for fit in listed if not _is_inside(fit, own)],
        late=[unit[0] for unit in movers],
    )
    inner = {
        unit[0]: plan_assembly(
            {mark: solids[mark] for mark in unit},
            [fit for fit in listed if {fit.contact.first, fit.contact.second} <= set(unit)],
        )
        for unit in units
        if len(unit) > 1
    }
    order = {mark: number for number, mark in enumerate(solids)}
    return Proof(
        tree=_graft(whole.tree, {name: proof.tree for name, proof in inner.items()}, order),
        locks=(*whole.locks, *(lock for proof in inner.values() for lock in proof.locks)),
        stops=find_stops(solids, listed),
    )


def _as_one(solids: list[Manifold]) -> Manifold:
    return solids[0] if len(solids) == 1 else Manifold.batch_boolean(solids, OpType.Add)


def _is_inside(fit: JointFit, own: Mapping[str, str]) -> bool:
    return own[fit.contact.first] == own[fit.contact.second]


def _between(fit: JointFit, own: Mapping[str, str]) -> JointFit:
    """A joint between two units, each called by its first mark."""
    first, second = own[fit.contact.first], own[fit.contact.second]
    return replace(fit, contact=replace(fit.contact, first=first, second=second))


def _graft(node: Assembly, inner: Mapping[str, Assembly], order: Mapping[str, int]) -> Assembly:
    """The tree with the trees of groups in the place of their leaves."""
    if node.moved is None or node.fixed is None:
        return inner.get(node.copies[0], node)
    moved, fixed = (_graft(half, inner, order) for half in (node.moved, node.fixed))
    copies = tuple(sorted((*moved.copies, *fixed.copies), key=order.__getitem__))
    return replace(node, copies=copies, moved=moved, fixed=fixed)
