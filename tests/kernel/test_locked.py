"""Which boards lock each other: puzzles of bars against counting cubes, and known answers.

The puzzles' truth is `bars.leaving`, which knows cubes only. Known answers: sides T-slotted along y
with a back in closed grooves, in open ones, and without.
"""

import pytest
from bars import SIX, THREE, Bar, bars_plan, cubes, leaving
from dryfit.kernel.assembly import assembly
from dryfit.kernel.blocking import Blocking
from dryfit.kernel.board import Axis
from dryfit.kernel.checks import check
from dryfit.kernel.checks.assembly_findings import NoOrder
from dryfit.kernel.locked import first_tried, lock_of
from dryfit.kernel.order import parted
from dryfit.kernel.plan import CutPlan
from dryfit.kernel.region import rectangle
from dryfit.kernel.solids import Bodies
from dryfit.kernel.steps import Assembly
from pieces import board, cut, plan, turned


def axes(bodies: Bodies) -> Blocking:
    return Blocking(bodies, range(len(bodies.plan.boards)))


@pytest.mark.parametrize("bars", [SIX, THREE], ids=["six", "three"])
def test_sets_of_bars_leave_just_where_counting_cubes_says_so(bars: tuple[Bar, ...]) -> None:
    bodies = Bodies(bars_plan(bars))
    blocking, pieces = axes(bodies), [cubes(bar) for bar in bars]
    everything = blocking.everything
    # Whole puzzles, and what is left when any one bar is taken out by hand.
    for whole in (everything, *(everything & ~(1 << i) for i in range(len(bars)))):
        truth = set(leaving(pieces, whole))
        for moving in range(1, whole):
            if moving & ~whole:
                continue
            for axis in range(3):
                for sign in (1, -1):
                    way = tuple(float(sign * (a == axis)) for a in range(3))
                    told = blocking.frees(moving, whole & ~moving, (way[0], way[1], way[2]))
                    assert told == ((moving, (axis, sign)) in truth)


def test_six_bars_come_apart_in_one_order_and_no_other() -> None:
    pieces = [cubes(bar) for bar in SIX]
    bodies = Bodies(bars_plan(SIX))
    assert {min(moving, 63 & ~moving) for moving, _ in leaving(pieces, 63)} == {0b1}
    assert {max(moving, 62 & ~moving) for moving, _ in leaving(pieces, 62)} == {0b100000}
    assert lock_of(bodies) is None
    found = assembly(bodies)
    assert isinstance(found, Assembly)
    assert [step.moving for step in found.steps][-2:] == [("bar5",), ("bar0",)]


def test_three_bars_lock_each_other_and_any_two_come_apart() -> None:
    bodies = Bodies(bars_plan(THREE))
    assert not list(leaving([cubes(bar) for bar in THREE], 0b111))
    lock = lock_of(bodies)
    assert lock is not None
    assert lock.boards == (0, 1, 2)
    assert lock.tried >= 6
    for ring in lock.rings:
        assert [grip.still for grip in ring.grips] == [
            *(grip.moving for grip in ring.grips[1:]),
            ring.grips[0].moving,
        ]
        for grip in ring.grips:
            assert max(abs(c) for c in grip.contact.place) <= 10.01  # the middle of the puzzle
    blocking = axes(bodies)
    graphs = [blocking.graph(d, 0b111) for d in first_tried(bodies, range(3))]
    assert all(len(parted(graphs, pair)) == 1 for pair in (0b011, 0b101, 0b110))  # type: ignore[arg-type]


def test_the_lock_is_told_once_with_the_boards_that_matter() -> None:
    """Two more bars lie beside the three: they have no part in it."""
    locked = bars_plan(THREE)
    more = [
        board(f"aside{i}", (100, 120), (40 * i, 40 * i + 20), (0, 60), stock="ply20")
        for i in (0, 1)
    ]
    cuts = tuple(c for one in locked.boards for c in one.cuts)
    made = plan(more[0], *(one.board for one in locked.boards), more[1], cuts=cuts)
    (found,) = [f for f in check(made) if isinstance(f, NoOrder)]
    assert [member.board for member in found.members] == ["bar0", "bar1", "bar2"]


# ---- a pinwheel ----------------------------------------------------------------------------------


def pinwheel() -> CutPlan:
    """Four blocks round the z axis, each with a T that runs along a slot of the next one.

    In its own coordinates a block fills x -40..0, y 0..40; its T stands out to x 14 along all of y,
    and the T of the block before it runs along all of x, up to y 14. z 10..30 is the T's head.
    """
    boards, cuts = [], []
    for number in range(4):
        name = f"block{number}"
        pose = (turned(-90 * number, Axis.Z),) if number else ()
        boards.append(
            board(name, (-40, 14), (0, 40), (0, 40), stock="ply40", grain=Axis.X, pose=pose)
        )
        cuts += [
            # The T: what stands past x 0, but for stem and head. Regions are (z, x) from +y.
            cut(name, "+y", rectangle(-1, 0, 10, 15), None),
            cut(name, "+y", rectangle(30, 0, 41, 15), None),
            cut(name, "+y", rectangle(9, 0, 16, 7), None),
            cut(name, "+y", rectangle(24, 0, 31, 7), None),
            # The slot: (y, z) from -x, as deep as the block.
            cut(name, "-x", rectangle(-1, 16, 8, 24), 40.0),
            cut(name, "-x", rectangle(7, 10, 14, 30), 40.0),
        ]
    return plan(*boards, cuts=tuple(cuts))


def test_a_pinwheel_parts_two_and_two_and_no_block_leaves_alone() -> None:
    bodies = Bodies(pinwheel())
    assert not any(bodies.meet(i, j) for i in range(4) for j in range(i + 1, 4))
    blocking = axes(bodies)
    directions = first_tried(bodies, range(4))
    single = [
        (i, d) for i in range(4) for d in directions if blocking.frees(1 << i, 15 & ~(1 << i), d)
    ]
    assert single == []
    assert lock_of(bodies) is None
    found = assembly(bodies)
    assert isinstance(found, Assembly)
    assert [(len(step.moving), len(step.into)) for step in found.steps] == [(1, 1), (1, 1), (2, 2)]


# ---- known answers -------------------------------------------------------------------------------


def frame() -> CutPlan:
    """Four sides T-slotted to each other along y.

    The standing sides reach over the lying ones' ends, which are cut to a T 20 wide there; its
    slots run through along y.
    """
    boards = [
        board("left", (0, 40), (0, 80), (0, 300), stock="ply40"),
        board("right", (260, 300), (0, 80), (0, 300), stock="ply40"),
        board("bottom", (20, 280), (0, 80), (20, 60), stock="ply40"),
        board("top", (20, 280), (0, 80), (240, 280), stock="ply40"),
    ]
    cuts = []
    for side, sign in (("left", 1), ("right", -1)):
        edge = 40 if side == "left" else 260
        for low in (20, 240):
            # Regions from +y are (z, x).
            neck = sorted((edge - 10 * sign, edge + sign))
            head = sorted((edge - 20 * sign, edge - 10 * sign))
            cuts += [
                cut(side, "+y", rectangle(low + 10, neck[0], low + 30, neck[1]), None),
                cut(side, "+y", rectangle(low, head[0], low + 40, head[1]), None),
            ]
            lying, (near, far) = "bottom" if low == 20 else "top", sorted((edge, edge - 10 * sign))
            cuts += [
                cut(lying, "+y", rectangle(low - 1, near, low + 10, far), None),
                cut(lying, "+y", rectangle(low + 30, near, low + 41, far), None),
            ]
    return plan(*boards, cuts=tuple(cuts))


def with_back(*, slot: float) -> CutPlan:
    """The frame with a back in grooves on all four sides, `slot` long from its front along y."""
    framed = frame()
    cuts = [cut for one in framed.boards for cut in one.cuts]
    cuts += [
        cut("left", "+x", rectangle(30, 50, 30 + slot, 250), 10.0),
        cut("right", "-x", rectangle(30, 50, 30 + slot, 250), 10.0),
        cut("bottom", "+z", rectangle(30, 30, 270, 30 + slot), 10.0),
        cut("top", "-z", rectangle(30, 30, 270, 30 + slot), 10.0),
    ]
    back = board("back", (30, 270), (30, 50), (50, 250), stock="ply20", grain=Axis.X)
    return plan(*(one.board for one in framed.boards), back, cuts=tuple(cuts))


def test_a_frame_of_slots_comes_apart_and_one_round_a_captured_back_does_not() -> None:
    for made in (frame(), with_back(slot=20), with_back(slot=60)):
        bodies = Bodies(made)
        n = len(made.boards)
        assert not any(bodies.meet(i, j) for i in range(n) for j in range(i + 1, n))
    assert lock_of(Bodies(frame())) is None
    assert lock_of(Bodies(with_back(slot=60))) is None, "grooves run out behind"
    lock = lock_of(Bodies(with_back(slot=20)))
    assert lock is not None
    names = [with_back(slot=20).boards[i].board.name for i in lock.boards]
    # A standing and a lying board hold each other along x and z. The back, which the head of the
    # lying board's far T stops along x, holds them along y.
    assert names == ["left", "bottom", "back"]


@pytest.mark.parametrize("left_out", range(3))
def test_none_of_the_locked_can_be_left_out(left_out: int) -> None:
    made = with_back(slot=20)
    lock = lock_of(Bodies(made))
    assert lock is not None
    kept = [made.boards[i] for i in lock.boards if i != lock.boards[left_out]]
    cuts = tuple(cut for one in kept for cut in one.cuts)
    assert lock_of(Bodies(plan(*(one.board for one in kept), cuts=cuts))) is None
