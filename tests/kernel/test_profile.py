"""A board lies flat as it would on the machine: right way up, nothing mirrored, all of it there."""

import math
from fractions import Fraction
from itertools import permutations

import pytest
from dryfit.kernel.board import Axis, Board, Box, Run, Span
from dryfit.kernel.cuts import Side, Work
from dryfit.kernel.plan import BoardPlan
from dryfit.kernel.planar import difference, opened
from dryfit.kernel.profile import Face, OperationKind, Profile, Shape, board_profile
from dryfit.kernel.region import Arc, Region, area, bounds, disc, rectangle
from dryfit.kernel.views import Where, seen
from flat_boards import BITS, MINUS_X, PLUS_X, busy_side, cut, plan_of


def profile_of(plan: BoardPlan) -> Profile:
    return board_profile(plan, BITS)


def names(profile: Profile) -> list[str]:
    return [operation.name for operation in profile.operations]


def shapes(profile: Profile, name: str) -> tuple[Shape, ...]:
    return next(o.shapes for o in profile.operations if o.name == name)


def test_a_bare_board_is_its_outline() -> None:
    profile = profile_of(plan_of())
    assert names(profile) == ["CUT_OUTER"]
    assert (profile.length, profile.width, profile.thick) == (520, 240, 12)
    assert bounds(profile.outline) == (0, 0, 520, 240)
    assert area(profile.outline) == 520 * 240
    assert profile.side_a == PLUS_X
    assert not profile.notes


@pytest.mark.parametrize("axes", list(permutations(Axis)))
@pytest.mark.parametrize("positive", [True, False])
def test_views_look_down_on_the_face_whatever_the_boards_axes(
    axes: tuple[Axis, Axis, Axis], positive: bool
) -> None:
    """Places a mark in space and finds it again by vectors: x along the length, y = up x length,
    both from the lower left corner of the face."""
    length, width, thick = axes
    spans = [Span(Fraction(0), Fraction(0))] * 3
    spans[length] = Span(Fraction(7), Fraction(107))
    spans[width] = Span(Fraction(-3), Fraction(37))
    spans[thick] = Span(Fraction(5), Fraction(17))
    board = Board(name="b", stock="ply12", box=Box(*spans))
    plan = BoardPlan(board=board, run=Run(length=length, width=width, thick=thick), cuts=())
    side = Side(thick, positive)
    place = {length: 31.0, width: 4.5}

    mark = seen(disc((place[side.plane[0]], place[side.plane[1]]), 1), plan, side)

    up, along = [0.0] * 3, [0.0] * 3
    up[thick], along[length] = (1.0 if positive else -1.0), 1.0
    across = [up[i - 2] * along[i - 1] - up[i - 1] * along[i - 2] for i in range(3)]
    corner_across = min(
        across[width] * float(spans[width].lo), across[width] * float(spans[width].hi)
    )
    expected = (place[length] - 7.0, place[width] * across[width] - corner_across)
    x0, y0, x1, y1 = bounds(mark)
    assert ((x0 + x1) / 2, (y0 + y1) / 2) == pytest.approx(expected)
    assert area(mark) == pytest.approx(math.pi)


def test_through_cuts_shape_the_outline_and_leave_their_fillets() -> None:
    """Three sockets of a box joint at one end, each with two fillets of the bit's radius, closed
    form: n (w d - 2 (1 - pi/4) r^2)."""
    sockets = [c for c in busy_side().cuts if c.joint == "foot"]
    profile = profile_of(plan_of(*sockets))
    removed = 3 * (240 / 7 * 12 - 2 * (1 - math.pi / 4) * 9)
    assert area(profile.outline) == pytest.approx(520 * 240 - removed, abs=1e-9)
    arcs = [e for loop in profile.outline.loops for e in loop if isinstance(e, Arc)]
    assert len(arcs) == 6
    assert all(arc.radius == pytest.approx(3) for arc in arcs)
    assert {round(e.end[0], 9) for loop in profile.outline.loops for e in loop} == {0, 9, 12, 520}


def test_openings_are_inner_profiles_named_apart_from_the_outline() -> None:
    profile = profile_of(busy_side())
    (opening,) = shapes(profile, "CUT_INNER")
    assert area(opening.region) == pytest.approx(math.pi * 400)
    assert opening.joints == ("vent",)
    (outer,) = shapes(profile, "CUT_OUTER")
    assert outer.joints == ("side-top", "foot")
    assert area(outer.region) == pytest.approx(area(profile.outline) + math.pi * 400)


def test_a_board_cut_in_two_has_two_outer_profiles() -> None:
    profile = profile_of(plan_of(cut(PLUS_X, rectangle(-1, 200, 241, 206), None)))
    first, second = shapes(profile, "CUT_OUTER")
    assert sorted((area(first.region), area(second.region))) == [200 * 240, 314 * 240]


def test_layers_name_operation_face_and_depth() -> None:
    assert names(profile_of(busy_side())) == [
        "CUT_OUTER",
        "CUT_INNER",
        "POCKET_Z4.0",
        "POCKET_Z5.0",
        "FACE_B_POCKET_Z3.0",
        "FACE_B_POCKET_Z6.35",
    ]


def test_the_face_with_the_most_work_lies_up() -> None:
    small, large = rectangle(10, 10, 20, 20), rectangle(10, 10, 40, 40)
    assert profile_of(plan_of(cut(PLUS_X, small, 3.0), cut(MINUS_X, large, 3.0))).side_a == MINUS_X
    assert profile_of(plan_of(cut(PLUS_X, large, 3.0), cut(MINUS_X, small, 3.0))).side_a == PLUS_X
    assert profile_of(plan_of(cut(MINUS_X, small, 3.0), cut(PLUS_X, small, 3.0))).side_a == PLUS_X


def test_overshoot_into_air_is_no_reason_to_turn_a_board() -> None:
    far = rectangle(-500, 10, 10, 20)
    profile = profile_of(
        plan_of(cut(PLUS_X, rectangle(50, 50, 80, 80), 3.0), cut(MINUS_X, far, 3.0))
    )
    assert profile.side_a == PLUS_X


def test_face_b_is_seen_from_its_own_side_and_lines_up_with_face_a() -> None:
    """The same hole drawn from either face: x is the same, y runs the other way."""
    profile = profile_of(busy_side())
    width = float(profile.width)
    hole_a = bounds(shapes(profile, "CUT_INNER")[0].region)
    hole_b = bounds(Region(profile.outline_b.loops[1:]))
    assert hole_b == pytest.approx((hole_a[0], width - hole_a[3], hole_a[2], width - hole_a[1]))
    assert area(profile.outline_b) == pytest.approx(area(profile.outline))
    (plug,) = shapes(profile, "FACE_B_POCKET_Z3.0")
    # -x up and z along: y of the view is the board's own y, here 40; x is its z, here 100
    assert bounds(plug.region) == pytest.approx((90, 30, 110, 50))


def test_a_pocket_as_deep_as_the_board_is_a_through_cut() -> None:
    profile = profile_of(plan_of(cut(PLUS_X, rectangle(10, 10, 20, 20), 12.0)))
    assert names(profile) == ["CUT_OUTER", "CUT_INNER"]


def test_pockets_of_one_depth_that_touch_become_one() -> None:
    cross = [
        cut(PLUS_X, rectangle(50, 100, 150, 110), 4.0, joint="one"),
        cut(PLUS_X, rectangle(95, 50, 105, 150), 4.0, joint="other"),
        cut(PLUS_X, rectangle(200, 200, 210, 210), 4.0, joint="apart"),
        cut(PLUS_X, rectangle(95, 50, 105, 150), 5.0, joint="deeper"),
    ]
    profile = profile_of(plan_of(*cross))
    crossing, apart = shapes(profile, "POCKET_Z4.0")
    assert area(crossing.region) == pytest.approx(100 * 10 + 100 * 10 - 10 * 10)
    assert (crossing.joints, apart.joints) == (("one", "other"), ("apart",))
    assert area(shapes(profile, "POCKET_Z5.0")[0].region) == pytest.approx(1000)


# -- open edges ----------------------------------------------------------------------------------


def only_pocket(region: Region) -> Shape:
    profile = profile_of(plan_of(cut(PLUS_X, region, 4.0)))
    (pocket,) = shapes(profile, "POCKET_Z4.0")
    return pocket


def test_a_pocket_inside_the_board_is_drawn_as_it_is() -> None:
    pocket = only_pocket(rectangle(50, 50, 100, 100))
    assert pocket.drawn == pocket.region


def test_a_pocket_open_at_the_edge_goes_on_past_it_by_the_bit() -> None:
    pocket = only_pocket(rectangle(-1, 200, 180, 212))
    assert bounds(pocket.region) == pytest.approx((200, 60, 212, 240))
    assert bounds(pocket.drawn) == pytest.approx((200, 60, 212, 244))
    assert len(pocket.drawn.loops[0]) == 4


def test_a_groove_right_along_goes_on_past_both_ends() -> None:
    assert bounds(only_pocket(rectangle(224, -1, 230, 521)).drawn) == pytest.approx(
        (-4, 10, 524, 16)
    )


def test_a_pocket_open_round_a_corner_fills_the_corner() -> None:
    pocket = only_pocket(rectangle(200, 480, 241, 521))
    assert bounds(pocket.drawn) == pytest.approx((480, -4, 524, 40))
    assert area(pocket.drawn) == pytest.approx(44 * 44)


def test_a_pocket_over_the_whole_face_goes_on_all_round() -> None:
    pocket = only_pocket(rectangle(-1, -1, 241, 521))
    assert area(pocket.region) == pytest.approx(520 * 240)
    assert area(pocket.drawn) == pytest.approx(528 * 248)


@pytest.mark.parametrize(
    "region",
    [
        rectangle(-1, 200, 180, 212),
        rectangle(200, 480, 241, 521),
        rectangle(-1, -1, 12, 521),
        disc((240.0, 300.0), 25.0),
    ],
)
def test_the_bit_that_stays_inside_the_drawing_clears_the_pocket_up_to_the_edge(
    region: Region,
) -> None:
    """What a disc reaches inside `drawn` covers all that the cut itself cleared of the blank."""
    pocket = only_pocket(opened(region, 3.0))
    missed = difference(pocket.region, opened(pocket.drawn, 3.0))
    assert area(missed) == pytest.approx(0, abs=1e-3)


# -- notes ---------------------------------------------------------------------------------------


def test_work_from_edges_and_by_hand_is_told_and_never_drawn() -> None:
    profile = profile_of(busy_side())
    rail, rounds = profile.notes
    assert (rail.where, rail.by_hand, rail.depth) == (Where.UPPER_EDGE, False, 15)
    assert (rail.x, rail.y, rail.below) == ((250, 300), (225, 240), (3, 9))
    assert (rounds.where, rounds.work, rounds.count) == (Where.RIGHT_END, Work.ROUND, 4)
    assert rounds.by_hand
    assert rounds.x == (508, 520)
    drawn = [joint for o in profile.operations for joint in o.joints]
    assert "rail" not in drawn


def test_a_pocket_by_hand_is_a_note_on_its_face() -> None:
    profile = profile_of(
        plan_of(
            cut(PLUS_X, rectangle(10, 10, 40, 40), 3.0),
            cut(MINUS_X, rectangle(20, 30, 40, 60), 2.0, by_hand=True),
        )
    )
    (note,) = profile.notes
    assert (note.where, note.x, note.y) == (Where.FACE_B, (30, 60), (200, 220))
    assert note.below == (10, 12)
    assert all(o.face is Face.A for o in profile.operations)


def test_kinds_are_in_the_order_they_are_listed() -> None:
    kinds = [o.kind for o in profile_of(busy_side()).operations]
    assert kinds == sorted(kinds, key=list(OperationKind).index)
