"""What every furniture maker knows, asked of whole plans through the public pipeline.

Beside each check stands its source; `common practice, no source` where the trade has none.
"""

from fractions import Fraction
from textwrap import dedent, indent

import pytest

from benchleaf.findings import has_errors
from benchleaf.frames import Axis
from benchleaf.lengths import format_length
from benchleaf.pipeline import WorkedPlan, work_plan

# NIST SP 811 (2008), appendix B.8: 1 inch is 25.4 mm exactly.
INCH = Fraction(254, 10)

HEAD = """\
plan: Trial
by: Fernhill community workshop
licence: CC BY 4.0
units: {unit}
overall: {{wide: {wide}, deep: {deep}, high: {high}}}
stock:
  ply: {{sheet: {sheet}, thickness: {ply}, of: birch plywood, grain: long}}
"""


def work(parts: str, joints: str = "", **head: str) -> WorkedPlan:
    """Work a plan out, and see that no stage met an error."""
    given = {"unit": "in", "wide": "36", "deep": "16", "high": "30", "ply": "3/4"}
    given |= {"sheet": "48 x 96"} | head
    text = HEAD.format(**given)
    text += "parts:\n" + indent(dedent(parts).strip("\n"), "  ") + "\n"
    if joints:
        text += "joints:\n" + indent(dedent(joints).strip("\n"), "  ") + "\n"
    worked = work_plan(text, "plans/trial.plan.yml")
    assert worked.joinery is not None, "\n".join(map(str, worked.findings))
    assert not has_errors(worked.findings), "\n".join(map(str, worked.findings))
    return worked


FOUR_LEGS = """
    leg:
      stock: ply
      left: 0
      front: 0
      bottom: 0
      wide: {leg}
      deep: {leg}
      high: 30
      thickness: wide
      mirror: [left-right, front-back]
"""

RAIL = """
    rail:
      stock: ply
      left: leg.right
      right: leg.mirrored(left-right).left
      centre deep: leg.centre deep
      deep: 3/4
      top: leg.top
      high: 3
      mirror: [front-back]
"""

END_RAIL = """
    end rail:
      stock: ply
      centre wide: leg.centre wide
      wide: 3/4
      front: leg.back
      back: leg.mirrored(front-back).front
      top: leg.top
      high: 3
      mirror: [left-right]
"""

FRAME = FOUR_LEGS.format(leg="2-1/4") + RAIL + END_RAIL
FRAME_JOINTS = """
    - {mortise and tenon: [rail, leg], length: 3/4}
    - {mortise and tenon: [end rail, leg], length: 3/4}
"""


@pytest.mark.parametrize(
    ("leg", "ply", "layers"),
    [
        # common practice, no source: thickness over layer, rounded up.
        ("3", "3/4", 4),
        ("2-1/4", "3/4", 3),
        ("1-1/2", "3/4", 2),
        ("3/4", "3/4", 1),
        # Plywood sold as 3/4 often measures 23/32: three layers are 2-5/32, too few for 2-1/4.
        ("2-1/4", "23/32", 4),
        ("3", "23/32", 5),
    ],
)
def test_legs_take_as_many_layers_as_the_stock_makes_up(leg, ply, layers):
    # The frame keeps the legs in one piece; its rails' thickness is the stock's own.
    frame = FOUR_LEGS.format(leg=leg) + RAIL.replace("deep: 3/4", f"deep: {ply}")
    worked = work(frame, "- {butt: [rail, leg]}", ply=ply)
    assert worked.piece.parts["leg"].layers == layers


def test_rails_between_legs_are_overall_less_two_legs():
    # common practice, no source: shoulder to shoulder, 36 - 2 x 2-1/4 = 31-1/2 and
    # 16 - 2 x 2-1/4 = 11-1/2; a tenon 3/4 long at each end makes the blanks 33 and 13.
    worked = work(FRAME, FRAME_JOINTS)
    for part, shoulders, blank in (("rail", "63/2", "33"), ("end rail", "23/2", "13")):
        along = worked.piece.parts[part].grain_axis
        assert worked.piece.parts[part].box.size[along] == Fraction(shoulders) * INCH
        mark = worked.piece.copies_of(part)[0].mark
        assert worked.joinery.copies[mark].blank.size[along] == Fraction(blank) * INCH


def test_a_rail_centred_in_a_post_stands_in_by_half_the_difference():
    # common practice, no source: (2-1/4 - 3/4) / 2 = 3/4.
    worked = work(FRAME, FRAME_JOINTS)
    rail, leg = worked.piece.parts["rail"].box, worked.piece.parts["leg"].box
    assert rail.low[1] - leg.low[1] == leg.high[1] - rail.high[1] == Fraction(3, 4) * INCH


def test_a_tenon_is_a_third_of_its_rail():
    # Port Townsend School of Woodworking, rules for mortise and tenon (read in a reproduction):
    # a third of the stock's thickness; 3/4 / 3 = 1/4.
    worked = work(FRAME, FRAME_JOINTS)
    mark = worked.piece.copies_of("rail")[0].mark
    tenons = [f.shape for f in worked.joinery.copies[mark].features if f.role == "tenon"]
    assert len(tenons) >= 2
    assert {tenon.size[Axis.DEEP] for tenon in tenons} == {Fraction(1, 4) * INCH}


def test_a_shoulder_on_a_tenoned_post_is_measured_from_the_end_of_the_tenon():
    # common practice, no source: a rule is laid against the end of the wood. A post with a tenon
    # 3/4 long below and a panel 17 above its lower shoulder is marked 17-3/4 from its end.
    worked = work(
        """
        foot:
          stock: ply
          layers: 3
          thickness: high
          left: 0
          right: overall.wide
          front: 0
          back: overall.deep
          bottom: 0
          high: 2-1/4
        post:
          stock: ply
          thickness: wide
          centre wide: overall.wide / 2
          wide: 3
          centre deep: overall.deep / 2
          deep: 3
          bottom: foot.top
          top: 30
        panel:
          stock: ply
          left: 0
          right: overall.wide
          front: 0
          back: overall.deep
          bottom: foot.top + 17
        """,
        """
        - {mortise and tenon: [post, foot], length: 3/4}
        - {through post: [post, panel], shoulder: 3/8}
        """,
    )
    rows = {
        row.what: row.distance_mm / INCH
        for fit in worked.joinery.fits
        for row in fit.setting_out
        if row.what.startswith("shoulder line")
    }
    assert rows == {
        "shoulder line, from the end of the tenon": Fraction(3, 4),
        "shoulder line": 17 + Fraction(3, 4),
    }


def test_a_rail_an_eighth_short_of_its_second_leg_is_found():
    # common practice, no source: a joint that meets at one end alone is a slip.
    short = FRAME.replace("right: leg.mirrored(left-right).left\n", "right: overall.wide - 2-3/8\n")
    worked = work(short, FRAME_JOINTS)
    assert [finding.message for finding in worked.findings if finding.code == "K210"] == [
        "rail (B1) stops short of leg (A2), by 1/8 (wide)"
    ]


POST_AND_PANEL = """
    post:
      stock: ply
      thickness: wide
      centre wide: overall.wide / 2
      wide: 3
      centre deep: overall.deep / 2
      deep: 3
      bottom: 0
      high: 30
    panel:
      stock: ply
      left: 0
      right: overall.wide
      front: 0
      back: overall.deep
      bottom: 20
"""


def test_a_shoulder_of_three_eighths_all_round_turns_three_inches_into_two_and_a_quarter():
    # common practice, no source: 3 - 2 x 3/8 = 2-1/4. Below the panel the post is 3 x 3 over 20;
    # from there it is 2-1/4 x 2-1/4 over 10. No other wood goes.
    worked = work(POST_AND_PANEL, "- {through post: [post, panel], shoulder: 3/8}")
    mark = worked.piece.copies_of("post")[0].mark
    waste = [f.shape for f in worked.joinery.copies[mark].features if not f.adds]
    kept_low = max(box.high[0] for box in waste if box.low[0] == 0 and box.high[0] < INCH)
    assert kept_low == Fraction(3, 8) * INCH
    assert {box.low[2] for box in waste} == {20 * INCH}
    assert {box.high[2] for box in waste} == {30 * INCH}


def test_half_laps_take_half_of_each():
    # NAVEDTRA 14043, Builder 3 & 2, half-lap joints: half of each thickness; 3/4 / 2 = 3/8.
    worked = work(
        """
        long foot:
          stock: ply
          left: 0
          wide: 36
          centre deep: overall.deep / 2
          deep: 3
          bottom: 0
        short foot:
          stock: ply
          centre wide: overall.wide / 2
          wide: 3
          front: 0
          deep: 16
          bottom: 0
        """,
        "- {half lap: [long foot, short foot]}",
        high="3/4",
    )
    for copy in worked.joinery.copies.values():
        (lap,) = [f.shape for f in copy.features if not f.adds]
        assert lap.size == (3 * INCH, 3 * INCH, Fraction(3, 8) * INCH)


def test_an_inch_is_25_4_millimetres_exactly():
    # NIST SP 811 (2008), appendix B.8, in bold: exact. One plan in inches and the same one in
    # millimetres come to the same piece, with nothing rounded.
    inches = work(FRAME, FRAME_JOINTS)
    metric = FRAME
    for size, millimetres in {"2-1/4": "57.15", "3/4": "19.05", "30": "762", "3": "76.2"}.items():
        metric = metric.replace(f": {size}\n", f": {millimetres}\n")
    in_mm = work(
        metric,
        FRAME_JOINTS.replace("3/4", "19.05"),
        unit="mm",
        wide="914.4",
        deep="406.4",
        high="762",
        ply="19.05",
        sheet="1219.2 x 2438.4",
    )
    for name, part in inches.piece.parts.items():
        assert in_mm.piece.parts[name].box == part.box
    assert inches.piece.overall.size == tuple(Fraction(n, 10) for n in (9144, 4064, 7620))


def test_inches_may_stand_in_a_plan_in_millimetres():
    # The same exact factor, in one value: 3 in is 76.2 mm.
    worked = work(
        """
        shelf:
          stock: ply
          left: 0
          wide: 3 in
          front: 0
          deep: 10 in
          bottom: 0
        """,
        unit="mm",
        wide="76.2",
        deep="254",
        high="18",
        ply="18",
        sheet="1220 x 2440",
    )
    size = worked.piece.parts["shelf"].box.size
    assert size == (Fraction(762, 10), Fraction(254), Fraction(18))
    assert format_length(size[0], "in") == "3"
