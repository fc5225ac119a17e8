"""The cut list counts boards that could take each other's place, and no others."""

import csv
import io
import json
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

import pytest
from dryfit.kernel.besides import besides
from dryfit.kernel.board import Axis, Box, Span
from dryfit.kernel.cutlist import as_csv, as_json, as_table, cut_list
from dryfit.kernel.cuts import Cut, Hardware, Side, Ware, Work
from dryfit.kernel.design import BoardRef, Join, Verb
from dryfit.kernel.partshape import part_shape
from dryfit.kernel.plan import BoardPlan, CutPlan, Joint
from dryfit.kernel.region import rectangle
from flat_boards import MINUS_X, PLUS_X, busy_side, cut, plan_of, whole

LENGTH, WIDTH, THICK = 520.0, 240.0, 12.0


def counts(*boards: BoardPlan) -> list[tuple[str, ...]]:
    return [row.parts for row in cut_list(whole(*boards))]


def panel(name: str, *cuts: Cut, at: tuple[int, int, int] = (0, 0, 0)) -> BoardPlan:
    """A panel 520 x 240 x 12 with length z, width y, thickness x."""
    x, y, z = at
    space = Box(
        Span(Fraction(x), Fraction(x + 12)),
        Span(Fraction(y), Fraction(y + 240)),
        Span(Fraction(z), Fraction(z + 520)),
    )
    return plan_of(*cuts, space=space, name=name)


def handed(side: Side, *, from_front: bool, from_foot: bool) -> Cut:
    """A pocket near one corner of one face: no turn of the board but the full one keeps it."""
    y0 = 20.0 if from_front else WIDTH - 50
    z0 = 30.0 if from_foot else LENGTH - 130
    return cut(side, rectangle(y0, z0, y0 + 30, z0 + 100), 4.0)


def test_boards_alike_share_a_row_wherever_they_stand() -> None:
    pocket = cut(PLUS_X, rectangle(20, 30, 50, 130), 4.0)
    moved = cut(PLUS_X, rectangle(120, 130, 150, 230), 4.0)
    plain, other = panel("plain", pocket), panel("other", moved, at=(7, 100, 100))
    assert counts(plain, other, panel("bare")) == [("plain", "other"), ("bare",)]


@pytest.mark.parametrize(
    ("turned", "same"),
    [
        (handed(PLUS_X, from_front=False, from_foot=False), True),  # half turn about the thickness
        (handed(MINUS_X, from_front=False, from_foot=True), True),  # about the length
        (handed(MINUS_X, from_front=True, from_foot=False), True),  # about the width
        (handed(PLUS_X, from_front=False, from_foot=True), False),  # mirrored
        (handed(PLUS_X, from_front=True, from_foot=False), False),
        (handed(MINUS_X, from_front=True, from_foot=True), False),
        (handed(MINUS_X, from_front=False, from_foot=False), False),
    ],
)
def test_half_turns_are_the_same_part_and_mirror_images_are_not(turned: Cut, same: bool) -> None:
    first = panel("first", handed(PLUS_X, from_front=True, from_foot=True))
    expected = [("first", "second")] if same else [("first",), ("second",)]
    assert counts(first, panel("second", turned)) == expected


def test_a_board_lying_along_other_axes_is_still_the_same_part_and_not_its_mirror_image() -> None:
    """The pocket of `handed` on a panel with length x, width y, thickness z. Turning the standing
    panel about y takes z to x and x to -z, so the pocket's face +x comes to lie on -z."""
    standing = panel("standing", handed(PLUS_X, from_front=True, from_foot=True))
    space = Box(*(Span(Fraction(0), Fraction(size)) for size in (520, 240, 12)))
    region = rectangle(30, 20, 130, 50)
    turned = plan_of(cut(Side(Axis.Z, False), region, 4.0), space=space, name="turned")
    mirrored = plan_of(cut(Side(Axis.Z, True), region, 4.0), space=space, name="mirrored")
    assert counts(standing, turned, mirrored) == [("standing", "turned"), ("mirrored",)]


def leg(name: str, *sides: Side) -> BoardPlan:
    """A leg 12 x 12 x 300 with a mortise near its upper end in each of the sides."""
    space = Box(*(Span(Fraction(0), Fraction(size)) for size in (12, 12, 300)))

    def mortise(side: Side) -> Cut:
        flat = rectangle(3, 250, 9, 290) if side.axis is Axis.X else rectangle(250, 3, 290, 9)
        return cut(side, flat, 5.0)

    return plan_of(*(mortise(side) for side in sides), space=space, name=name)


def test_the_legs_of_a_stool_are_one_part_though_each_looks_another_way() -> None:
    px, nx, py, ny = PLUS_X, MINUS_X, Side(Axis.Y, True), Side(Axis.Y, False)
    assert counts(leg("a", px, py), leg("b", py, nx), leg("c", nx, ny), leg("d", ny, px)) == [
        ("a", "b", "c", "d")
    ]
    assert counts(leg("a", px, py), leg("b", px, nx)) == [("a",), ("b",)]


@pytest.mark.parametrize(
    "change",
    [{"depth": 4.5}, {"bit": "b3"}, {"by_hand": True}, {"work": Work.ROUND}],
)
def test_whatever_makes_the_cut_another_makes_the_part_another(change: dict[str, object]) -> None:
    pocket = handed(PLUS_X, from_front=True, from_foot=True)
    changed = replace(pocket, **change)  # type: ignore[arg-type]
    assert counts(panel("one", pocket), panel("two", changed)) == [("one",), ("two",)]


@pytest.mark.parametrize("noise", [1e-10, -1e-10])
def test_the_order_of_cuts_and_the_last_digit_of_a_float_do_not_matter(noise: float) -> None:
    """1/32 in steps fall on halves of a thousandth, where plain rounding would tell them apart."""
    inch = 25.4
    cuts = [
        cut(PLUS_X, rectangle(n * inch / 32, 30, n * inch / 32 + 3, 60), 4.0) for n in range(1, 9)
    ]
    shaken = [
        cut(PLUS_X, rectangle(n * inch / 32 + noise, 30 + noise, n * inch / 32 + 3, 60), 4.0)
        for n in range(8, 0, -1)
    ]
    assert part_shape(panel("a", *cuts)) == part_shape(panel("b", *shaken))


def test_other_sizes_and_stocks_keep_rows_of_their_own() -> None:
    one = panel("one")
    other = replace(one, board=replace(one.board, name="other", stock="oak"))
    short = plan_of(space=Box(*(Span(Fraction(0), Fraction(s)) for s in (12, 240, 519))), name="s")
    assert counts(one, other, short) == [("one",), ("other",), ("s",)]


# -- what a row says -----------------------------------------------------------------------------


def joined(plan: CutPlan, *pairs: tuple[str, str, str]) -> CutPlan:
    joints = []
    for family, first, second in pairs:
        ends = (BoardRef(first), BoardRef(second))
        join = Join(
            name=f"{first}-{second}", family=family, verb=Verb.TO, first=ends[:1], second=ends[1:]
        )
        joints.append(Joint(name=join.name, join=join, first=ends[0], second=ends[1]))
    return replace(plan, joints=tuple(joints))


def cabinet() -> CutPlan:
    left, right = busy_side("left"), busy_side("right")
    drawers = [panel(f"drawer[{n}].front") for n in range(1, 5)]
    return joined(
        whole(left, right, *drawers),
        ("box", "left", "drawer[1].front"),
        ("box", "left", "drawer[2].front"),
        ("groove", "left", "right"),
        ("butt", "right", "drawer[1].front"),
    )


TABLE = """\
part                              count  length  width  thick  grain   stock               joints\
                   bits  by hand
left, right                           2     520    240     12  length  ply12 (11.6..12.2)  2 box,\
 1 butt, 1 groove  b6    4 round r3
drawer[1].front,                      4     520    240     12  length  ply12 (11.6..12.2)  1 box,\
 1 butt
drawer[2].front,
drawer[3].front, drawer[4].front
"""


def test_the_table_is_as_a_person_reads_it() -> None:
    assert as_table(cut_list(cabinet())) == TABLE


def test_csv_reads_back_with_names_whole_and_no_formula_in_it() -> None:
    rows = cut_list(whole(panel('=1+1,"x"'), panel("b"), busy_side()))
    read = list(csv.DictReader(io.StringIO(as_csv(rows))))
    assert [line["part"] for line in read] == ['\'=1+1,"x", b', "side"]
    assert [(line["count"], line["length"], line["thick"]) for line in read] == [
        ("2", "520", "12"),
        ("1", "520", "12"),
    ]


def test_json_holds_what_its_description_says() -> None:
    value = json.loads(as_json(cut_list(cabinet())))
    assert (value["schema"], value["units"]) == ("dryfit-cutlist-1", "mm")
    sides, drawers = value["rows"]
    assert sides == {
        "parts": ["left", "right"],
        "count": 2,
        "length": 520,
        "width": 240,
        "thick": 12,
        "grain": "length",
        "delivered": [11.6, 12.2],
        "stock": "ply12",
        "species": "birch_ply",
        "joints": {"box": 2, "butt": 1, "groove": 1},
        "bits": ["b6"],
        "by_hand": [{"work": "round", "bit": "r3", "count": 4}],
    }
    assert drawers["count"] == 4


def test_delivered_thickness_is_told_only_when_it_is_stated() -> None:
    plan = whole(panel("one"))
    exact = replace(plan.design.stocks[0], actual=(Fraction(12), Fraction(12)))
    plan = replace(plan, design=replace(plan.design, stocks=(exact,)))
    (row,) = cut_list(plan)
    assert row.delivered is None
    assert "ply12 (" not in as_table([row])
    assert json.loads(as_json([row]))["rows"][0]["delivered"] is None


def test_an_empty_list_is_its_headings() -> None:
    empty: Sequence[object] = cut_list(whole())
    assert not empty
    assert as_table(()).startswith("part  count")
    assert json.loads(as_json(()))["rows"] == []


def test_what_is_needed_besides_boards_is_counted_over_all_joints() -> None:
    dowels = Hardware(ware=Ware.DOWEL, sizes=(Fraction(8), Fraction(30)), count=4, joint="j")
    spline = Hardware(ware=Ware.SPLINE, sizes=(Fraction(4), Fraction(15), Fraction(200)), count=1,
                      joint="k")  # fmt: skip
    plan = cabinet()
    joints = (
        *(replace(joint, hardware=(dowels,)) for joint in plan.joints[:2]),
        replace(plan.joints[2], hardware=(spline,)),
    )
    extra = besides(replace(plan, joints=joints))
    assert [(piece.words, piece.count) for piece in extra] == [
        ("dowel 8 x 30 mm", 8),
        ("spline 4 x 15 x 200 mm", 1),
    ]
    assert as_table((), extra).endswith(
        "besides boards\n"
        "dowel 8 x 30 mm         8  bought, for box\n"
        "spline 4 x 15 x 200 mm  1  made, for groove\n"
    )
    assert as_csv((), extra).splitlines()[1] == "dowel,8,30,8,8,length,bought,box,,"
    assert json.loads(as_json((), extra))["besides"][1] == {
        "piece": "spline",
        "count": 1,
        "length": 200,
        "width": 15,
        "thick": 4,
        "bought": False,
        "joints": ["groove"],
    }
