"""What reliefs clear, against closed forms."""

from __future__ import annotations

import math

import pytest
from dryfit.kernel.planar import as_cut, difference, intersection, union
from dryfit.kernel.region import Arc, Region, area, bounds, contains, rectangle
from dryfit.kernel.relief import (
    Bite,
    Relief,
    inside_corners,
    long_extension,
    relief_discs,
    relieve,
    relieved,
    roundover_spandrel,
)
from flat_regions import SOCKET_BLANK, ell, polygon, square_ring, wedge

R = 3.175
SOCKET = rectangle(0, 0, 40, 20)
CLEARING = (Relief.CORNER, Relief.SIDE, Relief.SWEPT)


def test_corner_reliefs_add_two_circle_segments_a_corner() -> None:
    cut = relieved(SOCKET, SOCKET_BLANK, R, Relief.CORNER)
    assert area(cut) == pytest.approx(40 * 20 + 4 * R**2 * (math.pi / 2 - 1), abs=1e-9)
    assert area(cut) == pytest.approx(823.0159, abs=1e-4)


def test_side_reliefs_add_half_a_disc_a_corner() -> None:
    cut = relieved(SOCKET, SOCKET_BLANK, R, Relief.SIDE)
    assert area(cut) == pytest.approx(40 * 20 + 4 * math.pi * R**2 / 2, abs=1e-9)


@pytest.mark.parametrize(
    ("bite", "u_reach", "v_reach"),
    [(Bite.U, 0, R), (Bite.V, R, 0), (Bite.LONGER, 0, R), (Bite.SHORTER, R, 0)],
)
def test_side_reliefs_are_set_into_the_wall_asked_for(
    bite: Bite, u_reach: float, v_reach: float
) -> None:
    """A wall along u lies at v = 0: biting into it reaches beyond in v, and leaves the other."""
    cut = relieved(SOCKET, SOCKET_BLANK, R, Relief.SIDE, bite)
    assert bounds(cut) == pytest.approx((-u_reach, -v_reach, 40 + u_reach, 20 + v_reach))


def swept_excess(radius: float) -> float:
    """What one swept relief clears beyond the square corner, blend R = 2r, middle q = r.

    Half of it lies behind wall a (v = 0): above the middle arc from the corner to where it touches
    the blend, then above the blend. Summed in thin strips along u.
    """
    m = 2 * radius / math.sqrt(2)
    x = m + math.sqrt(9 * radius**2 - (m + radius) ** 2)
    steps = 20000
    total = 0.0
    u_touch = x + (m - x) * (radius / (3 * radius))
    for i in range(steps):
        u = x * (i + 0.5) / steps
        if u < u_touch:
            depth = m - math.sqrt(4 * radius**2 - (u - m) ** 2)
        else:
            depth = -radius + math.sqrt(radius**2 - (u - x) ** 2)
        total -= min(depth, 0.0) * x / steps
    return 2 * total


def test_swept_reliefs_clear_what_integration_says() -> None:
    cut = relieved(SOCKET, SOCKET_BLANK, 2.0, Relief.SWEPT)
    assert area(cut) - 800 == pytest.approx(4 * swept_excess(2.0), rel=1e-5)


def test_a_swept_relief_leaves_the_wall_smoothly_and_passes_the_corner() -> None:
    cut = relieved(SOCKET, SOCKET_BLANK, 2.0, Relief.SWEPT)
    arcs = [e for e in cut.loops[0] if isinstance(e, Arc)]
    assert len(arcs) == 16
    assert {round(a.radius, 9) for a in arcs} == {2.0, 4.0}
    ends = {e.start for e in cut.loops[0]}
    assert {(0, 0), (40, 0), (40, 20), (0, 20)} <= ends
    for before, after in zip(cut.loops[0], [*cut.loops[0][1:], cut.loops[0][0]], strict=True):
        assert _turn(before, after) == pytest.approx(0.0, abs=1e-6)


def _turn(before: object, after: object) -> float:
    from dryfit.kernel.curves import heading, turn_between

    return turn_between(heading(before, after.start), heading(after, after.start))


def test_a_short_wall_gets_a_tighter_sweep() -> None:
    done = relieve(rectangle(0, 0, 40, 12), SOCKET_BLANK, 2.0, Relief.SWEPT)
    arcs = [e for e in done.region.loops[0] if isinstance(e, Arc)]
    assert not done.replaced
    blend = {round(a.radius, 9) for a in arcs if not a.ccw}
    assert len(blend) == 1
    assert 0.2 <= blend.pop() < 2.0


def test_a_wall_too_short_to_sweep_gets_corner_reliefs_and_says_so() -> None:
    asked = rectangle(0, 0, 40, 6)
    done = relieve(asked, SOCKET_BLANK, 2.0, Relief.SWEPT)
    assert done.replaced == inside_corners(asked, SOCKET_BLANK)
    assert done.region == relieved(asked, SOCKET_BLANK, 2.0, Relief.CORNER)


@pytest.mark.parametrize("relief", [Relief.HALF_ROUND, Relief.LONG, Relief.NONE])
def test_the_others_leave_the_fillets(relief: Relief) -> None:
    assert relieved(SOCKET, SOCKET_BLANK, R, relief) == as_cut(SOCKET, SOCKET_BLANK, R)


@pytest.mark.parametrize("relief", CLEARING)
@pytest.mark.parametrize(
    "asked",
    [
        SOCKET,
        rectangle(-51, 0, 30, 18),
        rectangle(0, 0, 40, 7),
        ell(),
        square_ring(),
        wedge(40.0),
        wedge(75.0),
        wedge(120.0, 40.0),
    ],
)
def test_a_sharp_mate_goes_in_and_the_cutter_reaches_everywhere(
    asked: Region, relief: Relief
) -> None:
    cut = relieved(asked, SOCKET_BLANK, R, relief)
    blank = rectangle(*SOCKET_BLANK)
    left = difference(intersection(asked, blank), cut)
    assert area(left) < 1e-6
    again = as_cut(cut, SOCKET_BLANK, R)
    assert area(difference(cut, again)) < 1e-6


def test_corners_in_air_are_no_corners() -> None:
    blank = (0, 0, 100, 40)
    assert len(inside_corners(rectangle(10, 10, 30, 20), blank)) == 4
    open_end = inside_corners(rectangle(-1, 10, 30, 28), blank)
    assert [c.point for c in open_end] == [(30, 10), (30, 28)]
    assert len(inside_corners(rectangle(-1, -1, 30, 28), blank)) == 1
    assert inside_corners(rectangle(-1, -1, 101, 9), blank) == ()
    assert inside_corners(rectangle(0, 0, 100, 9), blank) == ()


def test_a_corner_knows_its_walls() -> None:
    (first, second) = inside_corners(rectangle(-1, 10, 30, 28), (0, 0, 100, 40))
    assert first.walls == ((-1, 0), (0, 1))
    assert first.lengths == (30, 18)
    assert first.shared == (False, True)
    assert first.inward == pytest.approx((-math.sqrt(0.5), math.sqrt(0.5)))
    assert second.walls == ((0, -1), (-1, 0))


def test_reflex_corners_are_no_inside_corners() -> None:
    points = {c.point for c in inside_corners(ell(), SOCKET_BLANK)}
    assert points == {(0, 0), (60, 0), (60, 20), (20, 60), (0, 60)}


def test_discs_of_corner_reliefs_stand_where_a_worker_would_plunge() -> None:
    discs = relief_discs(SOCKET, SOCKET_BLANK, 3.0, Relief.CORNER)
    k = 3 / math.sqrt(2)
    centres = [((b[0] + b[2]) / 2, (b[1] + b[3]) / 2) for b in map(bounds, discs)]
    places = [(k, k), (40 - k, k), (40 - k, 20 - k), (k, 20 - k)]
    assert all(math.dist(a, b) < 1e-9 for a, b in zip(centres, places, strict=True))
    assert relief_discs(SOCKET, SOCKET_BLANK, 3.0, Relief.SWEPT) == ()


def test_reliefs_that_run_into_each_other_are_one_opening() -> None:
    """A socket 7 wide, r 3.175: neighbouring discs overlap along the short walls."""
    asked = rectangle(0, 0, 40, 7)
    cut = relieved(asked, SOCKET_BLANK, R, Relief.CORNER)
    discs = relief_discs(asked, SOCKET_BLANK, R, Relief.CORNER)
    assert area(cut) == pytest.approx(area(union((as_cut(asked, SOCKET_BLANK, R), *discs))))
    assert contains(cut, (-0.5, 2.0))


def test_a_corner_the_cutter_never_reaches_gets_no_relief() -> None:
    keyhole = polygon([(0, 0), (30, 0), (30, 30), (17, 30), (17, 40), (13, 40), (13, 30), (0, 30)])
    cut = relieved(keyhole, SOCKET_BLANK, R, Relief.CORNER)
    assert not contains(cut, (15, 39))


def test_the_long_socket_clears_a_square_tenon() -> None:
    assert long_extension(3.0, 0.0) == 3.0
    assert long_extension(3.0, 3.0) == 0.0
    assert long_extension(3.0, 5.0) == 0.0
    e, c = long_extension(3.0, 0.2), 0.2
    # The tenon's corner, c from the long wall and e from the end, lies on the fillet's circle.
    assert math.dist((e, c), (3, 3)) == pytest.approx(3.0, abs=1e-12)


@pytest.mark.parametrize("degrees", [90.0, 60.0, 120.0])
def test_a_roundover_takes_the_corner_less_its_disc(degrees: float) -> None:
    w = math.radians(degrees)
    walls = ((1.0, 0.0), (math.cos(w), math.sin(w)))
    taken = roundover_spandrel((5.0, 5.0), walls, 2.0)
    assert area(taken) == pytest.approx(4 * (1 / math.tan(w / 2) - (math.pi - w) / 2), abs=1e-12)
    assert area(roundover_spandrel((5.0, 5.0), walls[::-1], 2.0)) == pytest.approx(area(taken))


def test_half_round_socket_and_rounded_tenon_fill_each_other() -> None:
    """The fillet a cutter leaves and the roundover of its radius are one curve."""
    hollow = relieved(SOCKET, SOCKET_BLANK, R, Relief.HALF_ROUND)
    rounds = [roundover_spandrel(c.point, c.walls, R) for c in inside_corners(SOCKET, SOCKET_BLANK)]
    tenon = difference(SOCKET, union(rounds))
    assert area(difference(tenon, hollow)) < 1e-9
    assert area(difference(hollow, tenon)) < 1e-9


def test_a_side_relief_in_a_skew_corner_becomes_a_corner_relief() -> None:
    done = relieve(wedge(75.0), SOCKET_BLANK, 2.0, Relief.SIDE)
    assert len(done.replaced) == 3


def test_nothing_to_relieve_where_the_cutter_does_not_go() -> None:
    assert relieve(rectangle(0, 0, 40, 6), SOCKET_BLANK, R, Relief.CORNER).region.is_empty
