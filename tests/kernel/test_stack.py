"""Rows between two stops, worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from dryfit.kernel.board import Axis
from dryfit.kernel.plan import CutPlan
from dryfit.kernel.region import rectangle
from dryfit.kernel.solids import Bodies
from dryfit.kernel.stack import Stack, Unknown, stack
from dryfit.kernel.straying import Kind, Tolerances
from pieces import board, cut, plan, ply

DRAWERS = tuple(f"drawer[{k}]" for k in (1, 2, 3))


def rails() -> CutPlan:
    """Three drawers between two rails, 362 apart, along z.

    A drawer is a base and a lid of 12 ply, 11.8..12.1 as it comes, glued to a front of 120: from
    the faces that its pockets are cut in, inside, base and lid grow outwards. The rails are of 18
    that comes 17.9..18.3; neither has a pocket, so their middles stay.
    """
    boards = [
        board("low", (0, 300), (0, 40), (0, 18)),
        board("high", (0, 300), (0, 40), (380, 398)),
    ]
    cuts = []
    for k in (1, 2, 3):
        z = 18 + 0.5 + (k - 1) * 120.5
        boards += [
            board(f"drawer[{k}].base", (0, 300), (0, 200), (z, z + 12), stock="ply12"),
            board(f"drawer[{k}].lid", (0, 300), (0, 200), (z + 108, z + 120), stock="ply12"),
        ]
        pocket = rectangle(20, 50, 40, 150)
        cuts += [
            cut(f"drawer[{k}].base", "+z", pocket, 4),
            cut(f"drawer[{k}].lid", "-z", pocket, 4),
        ]
    stocks = (ply(12, 11.8, 12.1), replace(ply(18, 17.9, 18.3)))
    return plan(*boards, cuts=tuple(cuts), stocks=stocks)


def made(*row: str, axis: Axis = Axis.Z, tolerances: Tolerances | None = None) -> Stack:
    found = stack(Bodies(rails()), row, axis, tolerances or Tolerances())
    assert isinstance(found, Stack)
    return found


@pytest.mark.parametrize("row", [("low", *DRAWERS, "high"), ("high", *DRAWERS[::-1], "low")])
def test_three_drawers_between_two_rails(row: tuple[str, ...]) -> None:
    """Room 362 less half of what either rail comes thicker: 361.7..362.1. A drawer is 120 and twice
    what its ply comes thicker: 119.6..120.2, all of one delivery. Left over 2: least 361.7 - 360.6,
    most 362.1 - 358.8."""
    found = made(*row)
    assert found.stops == ("low", "high")
    assert [piece.name for piece in found.pieces] == list(DRAWERS)
    assert found.room.size == pytest.approx(362)
    assert (found.room.least, found.room.most) == pytest.approx((361.7, 362.1))
    for piece in found.pieces:
        assert (piece.size, piece.least, piece.most) == pytest.approx((120, 119.6, 120.2))
    assert found.left == pytest.approx(2)
    assert (found.worst.least, found.worst.most) == pytest.approx((1.1, 3.3))
    assert found.gaps == pytest.approx((0.5, 0.5, 0.5, 0.5))
    corner = {source.name: stray for source, stray in found.worst.corner}
    assert corner == pytest.approx({"ply12": 0.1, "ply18": 0.3})


def test_a_row_that_does_not_fit_has_less_than_nothing_left() -> None:
    found = made("low", "drawer[1].base", "drawer[3]", "drawer[2].base")
    assert found.left == pytest.approx(139 - 18 - 12 - 120)
    assert min(found.gaps) < 0


def test_blanks_are_taken_as_cut_to_length() -> None:
    """Along x the boards end where they were cut off; a bit that is off changes nothing there."""
    found = made("low", "drawer[1]", "high", axis=Axis.X, tolerances=Tolerances(0.1, 0.1))
    assert found.worst.least == found.worst.most == found.left
    assert found.worst.corner == ()


def test_an_edge_that_a_cut_made_strays_with_bit_and_setup() -> None:
    """A part trimmed by 10 at one edge: its end strays with half the bit and with its setup."""
    part = board("part", (100, 200), (0, 200), (0, 18))
    trim = cut("part", "+z", rectangle(190, -1, 201, 201), None)
    stops = (board("a", (0, 90), (0, 200), (0, 18)), board("b", (200, 300), (0, 200), (0, 18)))
    bodies = Bodies(plan(stops[0], part, stops[1], cuts=(trim,)))
    found = stack(bodies, ("a", "part", "b"), Axis.X, Tolerances(bit=0.04, placement=0.1))
    assert isinstance(found, Stack)
    assert found.left == pytest.approx(20)
    assert (found.worst.least, found.worst.most) == pytest.approx((20 - 0.12, 20 + 0.12))
    assert {source.kind for source, _ in found.worst.corner} == {Kind.BIT, Kind.PLACE}


def test_a_name_that_is_not_there() -> None:
    row = ("low", "drawers", "high")
    assert stack(Bodies(rails()), row, Axis.Z, Tolerances()) == Unknown("drawers")
