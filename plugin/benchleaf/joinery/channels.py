"""Channels: a housing, a groove or a rebate in one part, and what enters it of the other.

Takes a Marking and which of the three it is; gives the channel with its features, sizes and numbers
to set out by. The three families say what they are called and what is usual; this does the rest.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import Number, Vector
from benchleaf.joinery.channel_options import USUAL
from benchleaf.joinery.marking import OFF, Marking, N, U, V, block, unit
from benchleaf.joinery.proportions import (
    factor,
    grid_mm,
    housing_depth_mm,
    planned,
    proposed,
    round_down,
    usual_mm,
    worked,
)
from benchleaf.joinery.reach import extent_mm
from benchleaf.joinery.records import Bench, JointFit, JointSize, SettingOut
from benchleaf.joinery.setting_out import mark_depth, mark_line, measures_from_high
from benchleaf.piece.records import ContactKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Channel:
    """A channel cut into the second copy, and what of the first enters it; contact's frame, mm."""

    cut_u: tuple[Number, Number]
    cut_v: tuple[Number, Number]
    depth_mm: Fraction
    enter_u: tuple[Number, Number]
    enter_mm: Fraction
    """How far the first part goes in: the depth less the clearance."""
    stops: tuple[tuple[str, Fraction], ...]
    """Face that it stops short of, by how much."""
    free: tuple[Vector, ...]
    """Directions in which the first copy comes off the second."""
    sizes: tuple[JointSize, ...]


# What ends a channel inside the wood.
_STOP = "a block clamped across the work stops the router"


def cut_channel(
    marking: Marking, cut_v: tuple[Number, Number], *, sideways: tuple[Vector, ...] = ()
) -> Channel:
    """Work out a channel along u.

    Args:
        marking: The joint; its options `depth`, `clearance`, `stopped` and `stop` are looked at.
        cut_v: What is cut across it: the entering part's thickness, or out to the edge.
        sideways: Directions along v in which the first copy comes out.
    """
    marking.need(ContactKind.FACE)
    marking.need_growth(USUAL[marking.chosen.kind].entering)
    depth, clearance = _depth_and_clearance(marking)
    _refuse_depth(marking, depth.value_mm, clearance.value_mm)
    stops = _stops(marking)
    cut_u = _ends(marking, stops, is_cut=True)
    enter_u = _ends(marking, stops, is_cut=False)
    _refuse_all_stopped(marking, enter_u)
    return Channel(
        cut_u=cut_u,
        cut_v=cut_v,
        depth_mm=depth.value_mm,
        enter_u=enter_u,
        enter_mm=depth.value_mm - clearance.value_mm,
        stops=tuple((face, short) for face, (_, short) in stops.items()),
        free=(OFF, *_open_ways(marking, cut_u), *sideways),
        sizes=(
            depth,
            *((clearance,) if clearance.value_mm else ()),
            worked("channel width", Fraction(cut_v[1] - cut_v[0]), "by where the part enters"),
            *(_stop_size(marking, face, short) for face, (_, short) in stops.items()),
        ),
    )


def fit_channel(marking: Marking, channel: Channel) -> JointFit:
    """The joint of a channel, worked out."""
    usual = USUAL[marking.chosen.kind]
    thick = marking.contact.v_mm
    enters = block(channel.enter_u, (Fraction(0), thick), (Fraction(0), channel.enter_mm))
    cut = block(channel.cut_u, channel.cut_v, (Fraction(0), channel.depth_mm))
    length = Fraction(channel.enter_u[1] - channel.enter_u[0])
    glued = marking.is_yes("glue", usually=usual.is_glued)
    return marking.made(
        (
            (marking.on_first(usual.entering, enters, adds=True),),
            (marking.on_second(usual.role, cut),),
        ),
        numbers=(channel.sizes, tuple(set_out_channel(marking, channel))),
        free=channel.free,
        glued_mm2=length * (thick + 2 * channel.enter_mm) if glued else Fraction(0),
    )


def warn_of_depth(marking: Marking, channel: Channel) -> Iterator[Finding]:
    """Say where a channel is deeper than is usual."""
    thickness = extent_mm(marking, marking.contact.second)
    usual = USUAL[marking.chosen.kind]
    most = thickness * factor(usual.most_key)
    # chosen: half a step of the rule is within what a person sets out by.
    if channel.depth_mm > most + grid_mm(marking.units) / 2:
        yield marking.warn(
            "J123",
            f"a {usual.role} {marking.show(channel.depth_mm)} deep weakens {marking.second}, "
            f"{marking.show(thickness)} thick",
            f"Needed: at most {marking.show(round_down(most, marking.units))}, "
            f"{factor(usual.most_key)} of the thickness.",
            option="depth",
        )


def warn_of_word(marking: Marking, right: str, direction: str) -> Finding:
    """Say that a channel goes by another name: across the grain a housing, along it a groove."""
    return marking.warn(
        "J124",
        f"the {marking.chosen.kind} runs {direction} the grain of {marking.second}",
        f"Call it a `{right}`, or turn the grain.",
    )


def has_grain(marking: Marking) -> bool:
    """Tell whether the grain of the second part is settled: not in sheets that have none."""
    return marking.bench.second.stock.grain.value != "none"


def is_at_edge(marking: Marking) -> bool:
    """Tell whether the contact reaches an edge of the second copy along its length."""
    second = marking.contact.second_box
    return second.low[V] == 0 or second.high[V] == marking.contact.v_mm


def warn_of_edge(marking: Marking) -> Finding:
    """Say that a channel at the edge is a rebate."""
    return marking.warn(
        "J125",
        f"the {marking.chosen.kind} runs along the very edge of {marking.second}",
        "Call it a `rebate`, or move the part in from the edge.",
    )


def _depth_and_clearance(marking: Marking) -> tuple[JointSize, JointSize]:
    usual = USUAL[marking.chosen.kind]
    given = marking.length("depth")
    name = f"{usual.role} depth"
    depth = planned(name, given) if given is not None else _usual_depth(marking, name)
    room = marking.length("clearance")
    if room is not None:
        return depth, planned("clearance at the bottom", room)
    if usual.clearance_key:
        usual_room = usual_mm(usual.clearance_key, marking.units)
        return depth, proposed("clearance at the bottom", usual_room, key=usual.clearance_key)
    return depth, worked("clearance at the bottom", Fraction(0), "the part goes to the bottom")


def _usual_depth(marking: Marking, name: str) -> JointSize:
    thickness = extent_mm(marking, marking.contact.second)
    key = USUAL[marking.chosen.kind].depth_key
    if key == "housing depth":
        rounding = "from 1/4 up to 1/3 of it on the rule"
        return proposed(
            name, housing_depth_mm(thickness, marking.units), key=key, rounding=rounding
        )
    third = thickness * factor("housing depth, most")
    usual = min(usual_mm(key, marking.units), round_down(third, marking.units) or third)
    return proposed(name, usual, key=key)


def _refuse_depth(marking: Marking, depth: Fraction, clearance: Fraction) -> None:
    thickness = extent_mm(marking, marking.contact.second)
    if clearance < depth < thickness:
        return
    role = USUAL[marking.chosen.kind].role
    raise marking.refuse(
        "J126",
        f"a {role} {marking.show(depth)} deep does not suit {marking.second}, "
        f"{marking.show(thickness)} thick, with {marking.show(clearance)} of clearance",
        f"Needed: more than {marking.show(clearance)} and less than {marking.show(thickness)}; a "
        "quarter to a third of the thickness is usual.",
        option="depth",
    )


def _stops(marking: Marking) -> dict[str, tuple[bool, Fraction]]:
    """Faces of the second part that the channel stops short of: which end, and by how much."""
    sides = {
        face: is_high
        for face, (axis, is_high) in marking.sides_of(marking.contact.second).items()
        if axis == U
    }
    given = marking.length("stop")
    short = usual_mm("stop length", marking.units) if given is None else given
    stops = {}
    for face in marking.words("stopped"):
        if face not in sides:
            raise marking.refuse(
                "J127",
                f"the channel in {marking.second} does not run to its {face}, so it cannot stop "
                "short of it",
                f"Needed: {' or '.join(sides)}.",
                option="stopped",
            )
        stops[face] = (sides[face], short)
    return stops


def _ends(
    marking: Marking, stops: dict[str, tuple[bool, Fraction]], *, is_cut: bool
) -> tuple[Number, Number]:
    """Where the channel, or what enters it, begins and ends along u."""
    second = marking.contact.second_box
    shorts = dict(stops.values())
    through = is_cut and marking.chosen.kind == "rebate"
    low: Number = second.low[U] if through else Fraction(0)
    high: Number = second.high[U] if through else marking.contact.u_mm
    if not through or False in shorts:
        low = Fraction(0)
    if not through or True in shorts:
        high = marking.contact.u_mm
    if False in shorts:
        low = max(low, second.low[U] + shorts[False])
    else:
        low = min(low, -_corner(marking, False, is_cut=is_cut))
    if True in shorts:
        high = min(high, second.high[U] - shorts[True])
    else:
        high = max(high, marking.contact.u_mm + _corner(marking, True, is_cut=is_cut))
    return low, high


def _corner(marking: Marking, is_high: bool, *, is_cut: bool) -> Fraction:
    """How much more goes in at an end where the first part enters another channel, mm.

    A panel that enters the parts on two sides of a corner fills the corner as well.
    """
    ours = marking.contact
    first = ours.first_box
    end, edge = (ours.u_mm, first.high[U]) if is_high else (Fraction(0), first.low[U])
    if end != edge:
        return Fraction(0)
    wanted = ours.frame.outward_direction(unit(U, is_high))
    for other in _channels_of(marking, ours.first):
        if other.contact.frame.axes[N] == wanted:
            depth, clearance = _depth_and_clearance(other)
            return depth.value_mm if is_cut else depth.value_mm - clearance.value_mm
    return Fraction(0)


def _channels_of(marking: Marking, mark: str) -> Iterator[Marking]:
    """The channels that a copy enters."""
    piece = marking.bench.piece
    for joint in piece.joints:
        if joint.kind not in USUAL:
            continue
        for contact in joint.contacts:
            if contact.first == mark and contact.kind is ContactKind.FACE:
                bench = Bench(
                    first=piece.parts[joint.first],
                    second=piece.parts[joint.second],
                    wall_mm=marking.bench.wall_mm,
                    piece=piece,
                )
                yield Marking(chosen=joint, contact=contact, bench=bench)


def _refuse_all_stopped(marking: Marking, ends: tuple[Number, Number]) -> None:
    if ends[1] > ends[0]:
        return
    raise marking.refuse(
        "J128",
        f"the stops leave nothing of the {marking.show(marking.contact.u_mm)} where "
        f"{marking.first} meets {marking.second}",
        "Needed: shorter stops, or a stop at one end only.",
        option="stop",
    )


def _open_ways(marking: Marking, cut_u: tuple[Number, Number]) -> tuple[Vector, ...]:
    """Directions along u in which the channel is open, so that the first copy slides out."""
    second = marking.contact.second_box
    ways = []
    if cut_u[0] <= second.low[U]:
        ways.append(unit(U, False))
    if cut_u[1] >= second.high[U]:
        ways.append(unit(U, True))
    return tuple(ways)


def _stop_size(marking: Marking, face: str, short: Fraction) -> JointSize:
    name = f"stop short of the {face}"
    if marking.length("stop") is not None:
        return planned(name, short)
    return proposed(name, short, key="stop length")


def set_out_channel(marking: Marking, channel: Channel) -> Iterator[SettingOut]:
    """The walls, the depth and the ends inside the wood."""
    mark = marking.contact.second
    role = USUAL[marking.chosen.kind].role
    carried = "a strip of this length carries it from one mate to the next"
    for which, at in zip(("near", "far"), _near_first(marking, V, channel.cut_v), strict=True):
        wall = mark_line(marking, mark, f"{which} wall of the {role}", axis=V, at=at)
        if 0 < wall.distance_mm < marking.box_of(mark).size[V]:
            yield replace(wall, spacer=carried if which == "near" else "the part itself, scribed")
    yield mark_depth(
        marking,
        mark,
        f"depth of the {role}",
        distance=channel.depth_mm,
        spacer="one depth setting serves every one of them",
    )
    for face, short in channel.stops:
        yield SettingOut(
            copy=mark,
            what=f"end of the {role}",
            reference=face,
            distance_mm=short,
            spacer=_STOP,
        )
    yield from _open_ends(marking, channel)


def _open_ends(marking: Marking, channel: Channel) -> Iterator[SettingOut]:
    """Ends where the channel stops because the part that enters does."""
    mark = marking.contact.second
    role = USUAL[marking.chosen.kind].role
    second = marking.contact.second_box
    stopped = {face for face, _ in channel.stops}
    for is_high, at in zip((False, True), channel.cut_u, strict=True):
        face = marking.own_face(mark, unit(U, is_high))
        short = second.high[U] - at if is_high else at - second.low[U]
        if short > 0 and face not in stopped:
            yield SettingOut(
                copy=mark,
                what=f"end of the {role}",
                reference=face,
                distance_mm=Fraction(short),
                spacer=_STOP,
            )


def _near_first(marking: Marking, axis: int, ends: tuple[Number, Number]) -> tuple[Number, Number]:
    from_high = measures_from_high(marking, axis, alone=marking.contact.second)
    return (ends[1], ends[0]) if from_high else ends
