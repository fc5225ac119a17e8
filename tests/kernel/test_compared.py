"""What each relief costs a joint, against figures worked by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
from dryfit.kernel.board import Axis, Shift, Turn
from dryfit.kernel.compared import Compared, compared, reliefs_of
from dryfit.kernel.design import Design
from dryfit.kernel.joints import WHERE
from dryfit.kernel.relief import Relief
from dryfit.lang import load

ROOT = Path(__file__).parents[2]
JOINTS = ROOT / "lang" / "joints"
R, THICK = 3.0, 18.0

WITH_RELIEFS = [name for name in WHERE if reliefs_of(name)]
WITH_CORNERS = [name for name in WITH_RELIEFS if name != "bridle"]
"""Every cut of a bridle runs out at both ends."""


def design_of(name: str) -> Design:
    """The program that a joint's reliefs are compared on."""
    own = JOINTS / "reliefs" / f"{name}.dry"
    outcome = load(str(own if own.exists() else JOINTS / f"{name}.dry"), {})
    assert outcome.value is not None
    return outcome.value


@cache
def rows(name: str) -> dict[Relief, Compared]:
    return {row.relief: row for row in compared(design_of(name))}


# -- one case worked by hand: the smallest box joint ----------------------------------------------
#
# Seven pins over 180 mm in 18 mm stock, 6 mm bit: r = 3. A has four pins, B three, so A has three
# sockets with two roots each and B four, the outer two with one root: 3 x 2 + 2 x 2 + 2 = 12 inside
# corners. Fits move walls and change no corner.

CORNERS = 12

CORNER_BITE = R**2 * (math.pi / 2 - 1)
"""A disc through the corner, its middle r off it on the bisector, sticks out of the square corner
by two segments of a quarter turn: 2 x r^2/2 (pi/2 - 1) = 5.137 mm2."""

SIDE_BITE = math.pi * R**2 / 2
"""Half a disc, 14.137 mm2."""

ROUNDED_OFF = R**2 * (1 - math.pi / 4)
"""What a roundover of the bit's radius takes off a pin's edge, 1.931 mm2."""


def swept_bite() -> float:
    """Twice what lies behind one wall, with blend R = 2r and middle q = r: the middle arc, 2r round
    M = (r sqrt 2, r sqrt 2), from the corner O to T where it touches the blend; the blend, r round
    B = (x, -r), from T to E = (x, 0), which bulges into the cut; and the wall EO.

    x = r sqrt 2 + sqrt(9 r^2 - (r sqrt 2 + r)^2) = 9.585 mm, T = M + (B - M) 2/3. Triangle O T E,
    more the segment of the middle arc over its chord O T, less that of the blend over T E. Each
    segment is radius^2 / 2 (turn - sin turn) with turn = 2 asin(chord / 2 radius). 20.796 mm2.
    """
    m = R * math.sqrt(2)
    x = m + math.sqrt(9 * R**2 - (m + R) ** 2)
    tx, ty = m + (x - m) * 2 / 3, m + (-R - m) * 2 / 3

    def segment(radius: float, chord: float) -> float:
        turn = 2 * math.asin(chord / 2 / radius)
        return radius**2 / 2 * (turn - math.sin(turn))

    triangle = -x * ty / 2
    lobe = triangle + segment(2 * R, math.hypot(tx, ty)) - segment(R, math.hypot(x - tx, ty))
    return 2 * lobe


@pytest.mark.parametrize(
    ("relief", "stops_a_corner", "turns_a_corner", "bite"),
    [
        (Relief.CORNER, 3, 3, CORNER_BITE),
        (Relief.SIDE, 2, 2, SIDE_BITE),
        (Relief.SWEPT, 0, 3, swept_bite()),
        (Relief.HALF_ROUND, 1, 1, None),
        (Relief.NONE, 1, 1, 0.0),
    ],
)
def test_the_box_joint_comes_to_what_was_worked_by_hand(
    relief: Relief, stops_a_corner: int, turns_a_corner: int, bite: float | None
) -> None:
    row = rows("box")[relief]
    assert (row.stops, row.turns) == (CORNERS * stops_a_corner, CORNERS * turns_a_corner)
    if bite is not None:
        assert row.corners == CORNERS
        assert row.area == pytest.approx(CORNERS * bite, abs=0.01)
        assert row.volume == pytest.approx(CORNERS * bite * THICK, abs=0.2)


def test_the_swept_bite_by_hand_is_what_it_says() -> None:
    assert (round(CORNER_BITE, 3), round(SIDE_BITE, 3)) == (5.137, 14.137)
    assert round(swept_bite(), 3) == 20.796


def test_half_round_takes_wood_off_the_pins_and_shows_nothing() -> None:
    """Both boards' pins have two rounded edges in each fillet but at the corner's own ends; the
    program's `round every` is left out of the comparison. A pin's edge is 18 mm long."""
    row = rows("box")[Relief.HALF_ROUND]
    by_hand = [cut for cut in row.cuts if cut.by_hand]
    assert len(by_hand) == CORNERS
    assert row.shows == ()
    assert row.volume == pytest.approx(sum(cut.area for cut in by_hand) * THICK, abs=0.01)
    assert min(cut.area for cut in by_hand) >= ROUNDED_OFF


def test_half_of_a_corner_relief_shows_inside_and_all_of_it_outside() -> None:
    """Outside, pins end flush and the whole bite lies beside them. Inside, the mate goes on over
    the half of each bite that lies on its side of the root. Each board has six of the corners."""
    bite = {(board, str(side)): area for board, side, area in rows("box")[Relief.CORNER].shows}
    assert bite == {
        ("side", "-x"): pytest.approx(6 * CORNER_BITE, abs=0.05),
        ("side", "+x"): pytest.approx(3 * CORNER_BITE, abs=0.05),
        ("top", "+z"): pytest.approx(6 * CORNER_BITE, abs=0.05),
        ("top", "-z"): pytest.approx(3 * CORNER_BITE, abs=0.05),
    }


def test_side_reliefs_leave_the_cheeks_whole_and_corner_reliefs_take_of_both_ends() -> None:
    """Cheeks of N fingers glue on (N - 1) t^2 (derived from the geometry). A side relief goes into
    the root. A corner relief takes r sqrt 2 off the cheek at either board's root."""
    assert rows("box")[Relief.SIDE].glue == pytest.approx(6 * THICK**2, abs=0.5)
    left = THICK - R * math.sqrt(2)
    assert rows("box")[Relief.CORNER].glue == pytest.approx(6 * left**2, abs=0.5)


# -- every joint that takes a relief --------------------------------------------------------------


@pytest.mark.parametrize("name", WITH_CORNERS)
def test_a_corner_relief_stops_more_than_a_side_relief_and_a_swept_one_least(name: str) -> None:
    """Common practice. Where a swept relief has no room, which is told, it is made round."""
    found = rows(name)
    corner, side, swept, none = (
        found[kind] for kind in (Relief.CORNER, Relief.SIDE, Relief.SWEPT, Relief.NONE)
    )
    assert corner.corners > 0
    assert corner.stops > side.stops >= none.stops > 0
    if "C106" in [finding.code for finding in swept.findings]:
        assert swept.stops <= corner.stops
    else:
        assert swept.stops == 0 < swept.turns
        assert swept.area > corner.area
    assert 0 == none.area < corner.area < side.area


@pytest.mark.parametrize("name", WITH_CORNERS)
def test_a_relief_lets_the_joint_close_and_none_does_not(name: str) -> None:
    """A loose tenon is rounded to the mortise, and needs none."""
    for relief, row in rows(name).items():
        assert row.closes is (relief is not Relief.NONE or name == "loose_tenon"), relief
        assert [f.code for f in row.findings if f.code not in ("C106", "F101")] == []


@pytest.mark.parametrize("name", WITH_CORNERS)
def test_nothing_shows_that_was_not_taken(name: str) -> None:
    for row in rows(name).values():
        for cut in row.cuts:
            assert all(0 <= seen <= cut.area + 0.01 for _, seen in cut.shows)
            assert len(cut.shows) <= 2


def test_it_does_not_matter_where_the_piece_stands() -> None:
    design = design_of("rabbet")
    turn = Turn(Fraction(37), Axis.Y, (Fraction(50), Fraction(0), Fraction(20)))
    moves = (turn, Shift((Fraction(5), Fraction(-7), Fraction(300))))
    there = replace(design, boards=tuple(replace(b, pose=moves) for b in design.boards))
    for row in compared(there):
        here = rows("rabbet")[row.relief]
        assert (row.stops, row.turns) == (here.stops, here.turns)
        assert [(b, s) for b, s, _ in row.shows] == [(b, s) for b, s, _ in here.shows]
        for (_, _, one), (_, _, other) in zip(row.shows, here.shows, strict=True):
            assert one == pytest.approx(other, abs=0.01)


def test_without_an_inside_corner_every_relief_comes_to_the_same() -> None:
    for row in rows("bridle").values():
        assert (row.corners, row.stops, row.area, row.shows) == (0, 0, 0, ())
        assert row.closes


def test_joints_without_the_option_are_not_compared() -> None:
    assert compared(design_of("dowels")) == ()
