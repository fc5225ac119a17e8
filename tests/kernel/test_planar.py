"""Booleans, openings, sampling and growth of flat regions against closed forms."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from dryfit.kernel import planar
from dryfit.kernel.planar import (
    as_cut,
    cleared,
    difference,
    grown_polygons,
    intersection,
    opened,
    polygons,
    traced_opening,
    traced_union,
    union,
)
from dryfit.kernel.region import Arc, Line, Loop, Region, area, bounds, disc, rectangle
from flat_regions import SOCKET_BLANK, ell, polygon, square_ring, turned, wedge

if TYPE_CHECKING:
    from numpy.typing import NDArray


def ring_area(ring: NDArray[object]) -> float:
    (x, y) = ring.T
    nx, ny = [*x[1:], x[0]], [*y[1:], y[0]]
    return sum(a * d - c * b for a, b, c, d in zip(x, y, nx, ny, strict=True)) / 2


def kinds(region: Region) -> str:
    """L for a line and A for an arc, in a row that starts nowhere in particular: sorted."""
    return "".join(sorted(type(edge).__name__[0] for loop in region.loops for edge in loop))


@pytest.mark.parametrize(
    ("region", "radius", "expected"),
    [
        (rectangle(0, 0, 60, 20), 3.175, 60 * 20 - (4 - math.pi) * 3.175**2),
        (rectangle(0, 0, 60, 20), 3.175, 1191.34672),
        (ell(), 3.0, 1990.34292),
        (rectangle(0, 0, 60, 6), 3.0, 352.27433),
        (rectangle(0, 0, 60, 6), 3.001, 0.0),
        (polygon([(0, 0), (50, 0), (25, 25 * math.sqrt(3))]), 4.0, 1049.65880),
        (square_ring(), 5.0, 5978.53982),
        (disc((7, 9), 3), 3.0, math.pi * 9),
        (disc((7, 9), 3), 3.001, 0.0),
        (rectangle(2, 3, 8, 9), 3.0, math.pi * 9),
    ],
)
@pytest.mark.parametrize("degrees", [0.0, 33.3])
def test_openings_have_their_known_areas(
    region: Region, radius: float, expected: float, degrees: float
) -> None:
    straight = all(isinstance(e, Line) for loop in region.loops for e in loop)
    asked = turned(region, degrees) if straight else region
    cut, exact = traced_opening(asked, radius)
    assert exact
    assert area(cut) == pytest.approx(expected, abs=1e-5)


@pytest.mark.parametrize("degrees", [40.0, 60.0, 90.0, 120.0, 150.0])
def test_a_corner_keeps_what_the_disc_cannot_reach(degrees: float) -> None:
    """r^2 (cot(w) - (pi - 2w)/2) with w half the angle; all three corners of the wedge."""
    radius, angle = 2.0, math.radians(degrees)
    corners = (angle, (math.pi - angle) / 2, (math.pi - angle) / 2)
    left = sum(1 / math.tan(w / 2) - (math.pi - w) / 2 for w in corners) * radius**2
    asked = wedge(degrees)
    assert area(asked) - area(opened(asked, radius)) == pytest.approx(left, abs=1e-9)


def test_a_square_corner_keeps_its_spandrel() -> None:
    left = area(rectangle(0, 0, 30, 20)) - area(opened(rectangle(0, 0, 30, 20), 4.0))
    assert left == pytest.approx(4 * (1 - math.pi / 4) * 16, abs=1e-12)


def test_an_opened_rectangle_is_lines_and_quarter_turns() -> None:
    cut = opened(rectangle(0, 0, 60, 20), 3.0)
    assert kinds(cut) == "AAAALLLL"
    arcs = [e for e in cut.loops[0] if isinstance(e, Arc)]
    assert {round(a.sweep, 12) for a in arcs} == {round(math.pi / 2, 12)}
    assert {a.centre for a in arcs} == {(3, 3), (57, 3), (57, 17), (3, 17)}


def test_a_neck_narrower_than_the_cutter_parts_the_opening() -> None:
    rooms = union((rectangle(0, 0, 20, 20), rectangle(20, 8, 30, 12), rectangle(30, 0, 50, 20)))
    cut = opened(rooms, 3.0)
    assert len(cut.loops) == 2
    # Each room loses four corners and gains the disc's bulge into the neck's mouth, 4 mm wide.
    half_turn = math.asin(2 / 3)
    bulge = 9 * (half_turn - math.sin(half_turn) * math.cos(half_turn))
    assert area(cut) == pytest.approx(2 * (400 - (4 - math.pi) * 9 + bulge), abs=1e-9)


def test_bulges_from_both_sides_of_a_short_neck_join() -> None:
    rooms = union((rectangle(0, 0, 20, 20), rectangle(20, 8, 20.5, 12), rectangle(20.5, 0, 40, 20)))
    cut, exact = traced_opening(rooms, 3.0)
    assert exact
    assert len(cut.loops) == 1
    assert area(difference(cut, rooms)) == pytest.approx(0.0, abs=1e-9)


def test_rounded_corners_wider_than_the_cutter_stay() -> None:
    rounded = opened(rectangle(0, 0, 40, 30), 5.0)
    assert area(opened(rounded, 3.0)) == pytest.approx(area(rounded), abs=1e-9)
    assert area(opened(rounded, 5.0)) == pytest.approx(area(rounded), abs=1e-9)


def test_rounded_corners_tighter_than_the_cutter_open_up() -> None:
    rounded = opened(rectangle(0, 0, 40, 30), 2.0)
    assert area(opened(rounded, 5.0)) == pytest.approx(1200 - (4 - math.pi) * 25, abs=1e-9)


def test_abutting_rectangles_become_one_of_four_lines() -> None:
    joined, exact = traced_union((rectangle(0, 0, 10, 10), rectangle(10, 0, 25, 10)))
    assert exact
    assert kinds(joined) == "LLLL"
    assert bounds(joined) == (0, 0, 25, 10)
    assert area(joined) == 250.0


def test_union_of_a_disc_and_a_bar_through_it() -> None:
    joined = union((disc((0, 0), 5), rectangle(0, -1, 20, 1)))
    # The bar past the disc's rim, and the part of it inside |y| < 1 that the disc covers.
    covered = math.sqrt(24) + 25 * math.asin(1 / 5)
    assert area(joined) == pytest.approx(25 * math.pi + 40 - covered, abs=1e-11)


def test_union_keeps_a_hole_it_closes() -> None:
    frame = union(
        (
            rectangle(0, 0, 30, 5),
            rectangle(0, 25, 30, 30),
            rectangle(0, 0, 5, 30),
            rectangle(25, 0, 30, 30),
        )
    )
    assert len(frame.loops) == 2
    assert area(frame) == 900 - 400


def test_difference_cuts_a_round_hole_of_true_arcs() -> None:
    plate = difference(rectangle(0, 0, 20, 20), disc((10, 10), 5))
    assert kinds(plate) == "AALLLL"
    assert area(plate) == pytest.approx(400 - 25 * math.pi, abs=1e-11)


def test_difference_of_equal_regions_is_empty() -> None:
    cut = opened(turned(rectangle(0, 0, 60, 20), 12.0), 3.0)
    assert difference(cut, cut).is_empty
    assert area(intersection(cut, cut)) == pytest.approx(area(cut), abs=1e-9)


def test_arcs_of_one_circle_that_meet_end_to_end_are_joined_again() -> None:
    half_left = difference(disc((0, 0), 5), rectangle(0, -9, 9, 9))
    half_right = difference(disc((0, 0), 5), rectangle(-9, -9, 0, 9))
    assert kinds(union((half_left, half_right))) == "AA"
    assert area(union((half_left, half_right))) == pytest.approx(25 * math.pi, abs=1e-9)


def test_two_discs_share_their_lens() -> None:
    d, r = 6.0, 5.0
    lens = 2 * r * r * math.acos(d / (2 * r)) - d / 2 * math.sqrt(4 * r * r - d * d)
    both = intersection(disc((0, 0), r), disc((d, 0), r))
    assert area(both) == pytest.approx(lens, abs=1e-11)


def test_nothing_with_nothing() -> None:
    box = rectangle(0, 0, 5, 5)
    assert union(()).is_empty
    assert opened(Region(), 3.0).is_empty
    assert difference(Region(), box).is_empty
    assert bounds(difference(box, Region())) == bounds(box)
    assert intersection(box, rectangle(6, 0, 9, 5)).is_empty
    assert as_cut(Region(), (0, 0, 10, 10), 1.0).is_empty


def test_vertices_lie_on_the_arc_a_multiple_of_eight_to_the_turn() -> None:
    (ring,) = polygons(disc((1, 2), 3.175), 0.001)
    assert len(ring) == 128
    radii = [math.dist(p, (1, 2)) for p in ring.tolist()]
    assert radii == pytest.approx([3.175] * 128, abs=1e-12)
    sagitta = 3.175 * (1 - math.cos(math.pi / 128))
    assert sagitta <= 0.001


def test_an_arc_and_its_mate_get_the_same_vertices() -> None:
    there = Region(
        ((Arc((3, 0), (0, 3), (0, 0), True), Line((0, 3), (0, 0)), Line((0, 0), (3, 0))),)
    )
    back = Region(
        ((Arc((0, 3), (3, 0), (0, 0), False), Line((3, 0), (3, 3)), Line((3, 3), (0, 3))),)
    )
    one, other = polygons(there, 0.001)[0].tolist(), polygons(back, 0.001)[0].tolist()
    shared = [p for p in one if p != [0.0, 0.0]]
    assert len(shared) == 128 // 4 + 1
    assert shared == [p for p in other[::-1] if p != [3.0, 3.0]]


def test_growing_a_rectangle_moves_its_sides_and_keeps_its_corners_sharp() -> None:
    (ring,) = grown_polygons(rectangle(0, 0, 10, 5), 0.25, 0.001)
    assert ring.tolist() == [[-0.25, -0.25], [10.25, -0.25], [10.25, 5.25], [-0.25, 5.25]]


def test_growing_moves_arcs_along_their_radius() -> None:
    (ring,) = grown_polygons(disc((0, 0), 5), 0.0025, 0.001)
    radii = [math.dist(p, (0, 0)) for p in ring.tolist()]
    assert radii == pytest.approx([5.0025] * len(ring), abs=1e-12)
    hole = difference(rectangle(-9, -9, 9, 9), disc((0, 0), 5))
    inner = max(grown_polygons(hole, 0.0025, 0.001), key=len)
    radii = [math.dist(p, (0, 0)) for p in inner.tolist()]
    assert radii == pytest.approx([4.9975] * len(inner), abs=1e-12)


def test_growing_by_nothing_is_sampling() -> None:
    cut = opened(rectangle(0, 0, 60, 20), 3.0)
    plain, same = polygons(cut, 0.001), grown_polygons(cut, 0.0, 0.001)
    assert [r.tolist() for r in plain] == [r.tolist() for r in same]


def test_growing_a_filleted_socket_adds_its_rim() -> None:
    """Perimeter times the growth, to first order, and a square's corner at each reflex none."""
    cut = opened(rectangle(0, 0, 60, 20), 3.0)
    by = 0.0025
    (before,), (after,) = polygons(cut, 1e-5), grown_polygons(cut, by, 1e-5)
    rim = 2 * (54 + 14) + 2 * math.pi * 3
    assert ring_area(after) - ring_area(before) == pytest.approx(rim * by, rel=1e-3)


def test_edges_too_short_to_move_are_left_to_the_clipper() -> None:
    notched = difference(rectangle(0, 0, 10, 10), rectangle(4, 9, 4.002, 11))
    grown = grown_polygons(notched, 0.0025, 0.001)
    assert sum(ring_area(r) for r in grown) == pytest.approx(10.005**2, abs=1e-6)


def test_a_cut_open_to_air_has_no_fillets_there() -> None:
    asked = rectangle(-1, 10, 30, 28)
    cut = as_cut(asked, (0, 0, 100, 40), 3.0)
    assert kinds(cut) == "AALLLL"
    assert area(asked) - area(cut) == pytest.approx(2 * (1 - math.pi / 4) * 9, abs=1e-12)


def test_a_notch_along_an_edge_has_none_at_all() -> None:
    asked = rectangle(-1, -1, 101, 9)
    assert as_cut(asked, (0, 0, 100, 40), 3.0) == asked


def test_a_shallow_notch_is_cut_from_the_air_beside_it() -> None:
    """2 mm deep from the edge: the disc stands outside and rounds each corner from the mouth on."""
    cut = as_cut(rectangle(-1, 10, 2, 30), (0, 0, 100, 40), 3.0)
    # The fillet's circle touches the floor u = 2 and passes the mouth's corner (0, 10).
    away = math.sqrt(9 - 1)  # centre at u = 2 - 3 = -1
    turn = math.atan2(away, 1)
    left = 2 * away - (9 * turn / 2 - away / 2)
    assert 2 * 20 - area(intersection(cut, rectangle(0, 0, 9, 40))) == pytest.approx(
        2 * left, abs=1e-9
    )


def test_a_slot_narrower_than_the_cutter_is_not_cut() -> None:
    assert as_cut(rectangle(10, 10, 60, 16), (0, 0, 100, 40), 3.001).is_empty
    assert not as_cut(rectangle(10, 10, 60, 16), (0, 0, 100, 40), 3.0).is_empty


def test_shoulders_round_a_tenon_leave_the_tenon_square() -> None:
    """Outside corners stay sharp: the disc rolls round them."""
    shoulders = Region(
        (*rectangle(-1, -1, 51, 21).loops, *polygon([(10, 5), (10, 15), (40, 15), (40, 5)]).loops)
    )
    cut = as_cut(shoulders, (0, 0, 50, 20), 3.0)
    assert area(cut) == pytest.approx(area(shoulders), abs=1e-9)


def test_fillets_drawn_directly_equal_the_opening() -> None:
    asked = rectangle(0, 0, 40, 20)
    direct = as_cut(asked, SOCKET_BLANK, 3.175)
    general = cleared(asked, SOCKET_BLANK, 3.175)
    assert area(difference(direct, general)) < 1e-9
    assert area(difference(general, direct)) < 1e-9


@pytest.mark.parametrize("wrong", [None, rectangle(0, 0, 30, 30).loops[0]])
def test_a_result_that_cannot_be_made_exact_is_its_polygon(
    monkeypatch: pytest.MonkeyPatch, wrong: Loop | None
) -> None:
    """Curves that do not meet, or a loop that differs from what was clipped."""
    monkeypatch.setattr(planar, "exact_loop", lambda *_: wrong)
    plate, exact = planar.traced_difference(rectangle(0, 0, 20, 20), disc((10, 10), 5))
    assert not exact
    assert set(kinds(plate)) == {"L"}
    assert area(plate) == pytest.approx(400 - 25 * math.pi, abs=2 * math.pi * 5 * 0.004)


def test_an_opening_that_cannot_be_made_exact_is_its_polygon(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(planar, "spread", lambda *_: None)
    cut, exact = traced_opening(rectangle(0, 0, 60, 20), 3.175)
    assert not exact
    assert set(kinds(cut)) == {"L"}
    assert area(cut) == pytest.approx(1191.34672, abs=2 * math.pi * 3.175 * 0.004)
