"""The closed-form measures of flat regions."""

from __future__ import annotations

import math

import pytest
from dryfit.kernel.region import Arc, Line, Region, area, bounds, contains, disc, rectangle


def test_a_rectangle_has_its_sides_product() -> None:
    assert area(rectangle(-1, 2, 9, 5)) == 30.0
    assert bounds(rectangle(-1, 2, 9, 5)) == (-1, 2, 9, 5)


def test_a_disc_is_two_half_arcs_of_its_area_and_extent() -> None:
    round_one = disc((10, -4), 2.5)
    assert [edge.sweep for edge in round_one.loops[0] if isinstance(edge, Arc)] == pytest.approx(
        [math.pi, math.pi]
    )
    assert area(round_one) == pytest.approx(math.pi * 2.5**2, rel=1e-14)
    assert bounds(round_one) == pytest.approx((7.5, -6.5, 12.5, -1.5))


def test_a_hole_takes_its_area_away() -> None:
    (hole,) = disc((5, 5), 2).loops
    backwards = tuple(
        Arc(edge.end, edge.start, edge.centre, not edge.ccw)
        for edge in reversed(hole)
        if isinstance(edge, Arc)
    )
    plate = Region((rectangle(0, 0, 10, 10).loops[0], backwards))
    assert area(plate) == pytest.approx(100 - math.pi * 4, rel=1e-14)
    assert not contains(plate, (5, 5))
    assert not contains(plate, (6.9, 5))
    assert contains(plate, (7.1, 5))


def test_arcs_turn_the_way_they_say() -> None:
    quarter = Arc((1, 0), (0, 1), (0, 0), True)
    assert quarter.sweep == pytest.approx(math.pi / 2)
    assert Arc((0, 1), (1, 0), (0, 0), False).sweep == pytest.approx(-math.pi / 2)
    assert quarter.radius == 1.0


def test_extent_counts_where_an_arc_bulges_past_its_ends() -> None:
    s = math.sqrt(0.5)
    bulge = Region(((Arc((s, -s), (s, s), (0, 0), True), Line((s, s), (s, -s))),))
    assert bounds(bulge) == pytest.approx((s, -s, 1.0, s))
    assert contains(bulge, (0.9, 0.0))
    assert not contains(bulge, (0.6, 0.0))


def test_the_empty_region_has_no_area_and_no_extent() -> None:
    assert Region().is_empty
    assert area(Region()) == 0.0
    with pytest.raises(ValueError, match="empty"):
        bounds(Region())


@pytest.mark.parametrize("v", [-4.0, -3.9, -4.1])
@pytest.mark.parametrize(("u", "inside"), [(7.4, False), (7.6, True), (10.0, True), (12.6, False)])
def test_half_discs_leave_no_gap_along_their_chord(u: float, v: float, inside: bool) -> None:
    assert contains(disc((10, -4), 2.5), (u, v)) is inside
