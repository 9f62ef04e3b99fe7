"""A small sound plan, every stage's result made by hand, and drawings to go with it.

Two legs and a rail between them, doweled; the rail of two layers. Numbers are round so that tests
can say what pages must show.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from benchleaf.buying import list_purchases
from benchleaf.cutting.records import (
    Blank,
    CutDirection,
    CutNode,
    CutPlan,
    LengthLayout,
    Rectangle,
    SheetLayout,
)
from benchleaf.drawing.scene import Line, Role, Scene, Text
from benchleaf.findings import Finding, Place, Severity
from benchleaf.forms import Bore
from benchleaf.frames import Axis, Box
from benchleaf.joinery.records import (
    Assembly,
    CutCopy,
    Feature,
    Hardware,
    Joinery,
    JointFit,
    JointSize,
    SettingOut,
    Shape,
)
from benchleaf.piece.records import Contact, Piece
from benchleaf.pipeline import WorkedPlan
from benchleaf.reading.plan import Finish, Stock, StockKind
from benchleaf.safety.records import CallOut, CallOuts, SourceReference
from benchleaf.scheduling import schedule_work
from benchleaf.sequencing.records import Operation, Sequence, Setting, Step
from benchleaf.site.records import PlanSource
from pieces import box, build_piece, stock

FILE = "plans/side-frame.plan.yml"
TEXT = "plan: Side frame\nparts:\n  leg:\n    wide: 40\n"
SOURCE = PlanSource(name="side-frame", file=FILE, text=TEXT)

# From the left: a leg 40 wide, a rail 400 long, a leg 40 wide; the rail is 80 high, at the top.
_PARTS = {
    "leg": box(0, 0, 0, 40, 36, 400),
    "rail": box(40, 0, 320, 440, 36, 400),
    "far leg": box(440, 0, 0, 480, 36, 400),
}


def make_piece() -> Piece:
    piece = build_piece(_PARTS, [("dowels", "rail", "leg"), ("dowels", "rail", "far leg")])
    ply = stock("ply", Fraction(18))
    plan = replace(
        piece.plan,
        name="side-frame",
        file=FILE,
        title="Side frame",
        author="Fernhill community workshop",
        licence="CC BY 4.0",
        summary="Two legs and a rail.",
        revision="B",
        stock={"ply": ply, "peg": _rod()},
        finish=Finish(material="hard wax oil", coats=2, grits=(120, 180)),
        notes=("Keep the offcut for the shelf.",),
    )
    parts = {
        name: replace(part, stock=ply, layers=2, thickness_axis=Axis.DEEP)
        for name, part in piece.parts.items()
    }
    return replace(piece, plan=plan, parts=parts)


def _rod() -> Stock:
    rod = stock("peg", Fraction(10), kind=StockKind.ROD)
    return replace(rod, lengths_mm=(Fraction(1000),), material="birch")


def _fit(index: int, contact: Contact) -> JointFit:
    hole = Feature(
        role="dowel hole",
        shape=Bore((20, 18, 0), (0, 0, 1), Fraction(10), Fraction(25), Fraction(10)),
        adds=False,
        joint=index,
        mate=contact.second,
    )
    return JointFit(
        joint=index,
        kind="dowels",
        contact=contact,
        first_features=(hole,),
        second_features=(replace(hole, mate=contact.first),),
        sizes=(
            JointSize(
                name="dowel diameter",
                value_mm=Fraction(10),
                rule="1/3 of the thinner part's thickness",
                source="common practice, no source",
            ),
        ),
        setting_out=(
            SettingOut(
                copy=contact.first,
                what="centre of dowel hole 1",
                reference="top",
                distance_mm=Fraction(20),
                spacer="20 mm gauge",
            ),
            SettingOut(
                copy=contact.second,
                what="centre of dowel hole 1",
                reference="top",
                distance_mm=Fraction(20),
                spacer="20 mm gauge",
            ),
        ),
        hardware=(
            Hardware(
                kind="dowel",
                size="10 x 50",
                diameter_mm=Fraction(10),
                length_mm=Fraction(50),
                count=2,
            ),
        ),
        free_directions=((0, 0, -1),),
        glue_area_mm2=Fraction(2880),
        is_glued=True,
    )


def make_joinery(piece: Piece) -> Joinery:
    fits = tuple(_fit(joint.index, joint.contacts[0]) for joint in piece.joints)
    copies = {
        mark: CutCopy(mark=mark, part=copy.part, features=_holes(mark), blank=_own_box(copy.box))
        for mark, copy in piece.copies.items()
    }
    shapes = tuple(
        Shape(part=cut.part, name=cut.part, as_drawn=(mark,), mirrored=(), drawn=cut)
        for mark, cut in copies.items()
    )
    leaf = Assembly(copies=("B",), moved=None, fixed=None, direction=(0, 0, 0))
    return Joinery(piece=piece, fits=fits, copies=copies, shapes=shapes, assembly=leaf)


def _own_box(solid: Box) -> Box:
    return Box((Fraction(0), Fraction(0), Fraction(0)), solid.size)


def _holes(mark: str) -> tuple[Feature, ...]:
    into_right = Bore(
        (Fraction(40), Fraction(18), Fraction(380)),
        (Fraction(-1), Fraction(0), Fraction(0)),
        Fraction(10),
        Fraction(25),
        Fraction(10),
    )
    return (Feature(role="dowel hole", shape=into_right, adds=False, joint=0, mate="B"),) * (
        mark == "A"
    )


def _blanks() -> tuple[Blank, ...]:
    return tuple(
        Blank(
            label=f"{mark}.{layer}",
            part=part,
            copy=mark,
            layer=layer,
            length_mm=Fraction(406),
            width_mm=Fraction(width),
            final_length_mm=Fraction(400),
            final_width_mm=Fraction(width - 6),
            stock="ply",
            may_turn=False,
        )
        for mark, part, width in (("A", "leg", 46), ("B", "rail", 86), ("C", "far leg", 46))
        for layer in (1, 2)
    )


def _rectangle(x: int, y: int, wide: int, high: int) -> Rectangle:
    return Rectangle(x=Fraction(x), y=Fraction(y), wide=Fraction(wide), high=Fraction(high))


def _leaf(spot: Rectangle, blank: str = "") -> CutNode:
    return CutNode(
        area=spot,
        blank=blank,
        is_turned=False,
        direction=None,
        at_mm=Fraction(0),
        number=0,
        first=None,
        second=None,
    )


def make_cut_plan(piece: Piece) -> CutPlan:
    whole = _rectangle(0, 0, 2440, 1220)
    strip = _rectangle(0, 0, 406, 1220)
    rest = CutNode(
        area=strip,
        blank="",
        is_turned=False,
        direction=CutDirection.ALONG,
        at_mm=Fraction(46),
        number=2,
        first=_leaf(_rectangle(0, 0, 406, 46), "A.1"),
        second=_leaf(_rectangle(0, 49, 406, 1171)),
    )
    tree = replace(
        rest,
        area=whole,
        direction=CutDirection.ACROSS,
        at_mm=Fraction(406),
        number=1,
        first=rest,
        second=_leaf(_rectangle(409, 0, 2031, 1220)),
    )
    sheet = SheetLayout(
        stock="ply",
        number=1,
        length_mm=Fraction(2440),
        width_mm=Fraction(1220),
        kerf_mm=Fraction(3),
        trim_mm=Fraction(0),
        tree=tree,
        placed=(("A.1", _rectangle(0, 0, 406, 46), False),),
        offcuts=(_rectangle(409, 0, 2031, 1220),),
    )
    rod = LengthLayout(
        stock="peg",
        number=1,
        length_mm=Fraction(1000),
        kerf_mm=Fraction(3),
        trim_mm=Fraction(0),
        placed=(("dowel 1", Fraction(0), Fraction(50)), ("dowel 2", Fraction(53), Fraction(50))),
        offcut_mm=Fraction(894),
    )
    return CutPlan(
        blanks=_blanks(),
        sheets=(sheet,),
        lengths=(rod,),
        stock=tuple(piece.plan.stock.values()),
        lower_bounds=(("ply", 1), ("peg", 1)),
        findings=(),
    )


def _operation(kind: str, title: str, tool: str, **changes: object) -> Operation:
    operation = Operation(
        id=kind,
        kind=kind,
        title=title,
        tool=tool,
        copies=("A", "B", "C"),
        settings=(),
        actions=(),
        check="",
        needs=(),
        active_minutes=20,
        waiting_hours=Fraction(0),
        facts={},
    )
    return replace(operation, **changes)  # type: ignore[arg-type]


def make_sequence() -> Sequence:
    rip = _operation(
        "rip",
        "Rip strips for A, B and C",
        "table saw",
        settings=(
            Setting(name="fence", value_mm=Fraction(46)),
            Setting(name="blade", value_mm=None, text="square to the table"),
        ),
        actions=("Set the fence.", "Rip the strips for A and C.", "Rip the strips for B."),
        check="Two strips laid edge to edge show no light.",
    )
    drill = _operation(
        "drill",
        "Drill the dowel holes",
        "drill",
        actions=("Drill each hole 25 deep.",),
        joints=(0, 1),
    )
    glue = _operation(
        "glue-up",
        "Glue the rail to the legs",
        "by hand",
        actions=("Brush glue into the holes.", "Clamp across the rail."),
        check="The diagonals are equal within 1 mm.",
        waiting_hours=Fraction(24),
        joints=(0, 1),
    )
    return Sequence(
        operations=(rip, drill, glue),
        steps=(
            _step(1, "rip-strips", "stock", rip),
            _step(2, "drill-holes", "joints", drill),
            _step(3, "glue-frame", "assembly", glue),
        ),
        findings=(),
    )


def _step(number: int, slug: str, phase: str, operation: Operation) -> Step:
    is_assembly = phase == "assembly"
    return Step(
        number=number,
        slug=slug,
        phase=phase,
        title=operation.title,
        operations=(operation,),
        copies=operation.copies,
        joined=operation.copies if is_assembly else (),
        moved=("B",) if is_assembly else (),
        notes=("Mind the splinters.",) if number == 1 else (),
    )


def make_call_outs() -> CallOuts:
    source = SourceReference(
        key="CFR1910.213c", title="29 CFR 1910.213(c)(1) hood", status="secondary"
    )
    call_out = CallOut(
        rule="TS-02",
        signal="WARNING",
        hazard="The strip is 46 mm wide: a hand beside the blade can be cut.",
        control="Feed the last 300 mm with a push stick.",
        sources=(source,),
        operation="rip",
    )
    notice = replace(
        call_out, rule="GL-01", signal="NOTICE", hazard="Squeeze-out stains.", operation=""
    )
    return CallOuts(
        by_step={1: (call_out,), 3: (notice,)},
        cards={
            "table saw": (replace(call_out, operation=""),),
            "the shop": (replace(call_out, rule="SH-01", signal="CAUTION", operation=""),),
            "the piece": (notice,),
        },
    )


def make_worked() -> WorkedPlan:
    piece = make_piece()
    joinery, cut_plan = make_joinery(piece), make_cut_plan(piece)
    return WorkedPlan(
        file=FILE,
        plan=piece.plan,
        piece=piece,
        joinery=joinery,
        cut_plan=cut_plan,
        shopping=list_purchases(joinery, cut_plan),
        sequence=make_sequence(),
        call_outs=make_call_outs(),
        schedule=schedule_work(make_sequence()),
        findings=(
            Finding(
                code="K299",
                severity=Severity.WARNING,
                place=Place(file=FILE, line=3, column=3),
                subject="parts.leg",
                message="the leg is slender",
                remedy="Needed: at least 45 wide.",
            ),
        ),
    )


def make_scene(name: str, *, title: str = "") -> Scene:
    return Scene(
        id=f"side-frame-{name}",
        # as wide as a drawing may be, so that one printed smaller shows
        width=180.0,
        height=90.0,
        marks=(
            Line(points=((1, 1), (179, 1), (179, 89), (1, 89), (1, 1)), role=Role.OUTLINE),
            Line(points=((10, 45), (170, 45)), role=Role.HIDDEN),
            Text(at=(90, 30), text=name),
        ),
        title=title or f"Drawing {name}",
        description="A rectangle 140 wide and 70 high.",
        scale="1:5" if name.startswith("part") else "",
    )


SCENES = {
    name: make_scene(name)
    for name in (
        "assembled",
        "exploded",
        "part-leg",
        "part-rail",
        "sheet-ply-1",
        "lengths-peg-1",
        "joint-1",
        "step-glue-frame",
    )
}
