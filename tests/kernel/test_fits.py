"""Worst plays against bodies cut with every stray, published fits, and shares in closed form."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from dryfit.kernel.board import Axis, Move
from dryfit.kernel.cuts import Cut, Mating, Side
from dryfit.kernel.delivered import delivered
from dryfit.kernel.fits import Asked, AxisFit, Fits, fits
from dryfit.kernel.measure import own_axis
from dryfit.kernel.plan import CutPlan
from dryfit.kernel.region import Region, bounds, rectangle
from dryfit.kernel.solids import Bodies
from dryfit.kernel.straying import Gap, Kind, Source, Sum, Tolerances, ranges_of, wall_gap, worst
from dryfit.kernel.walls import play
from joined import every, named, planned
from pieces import board, cut, exact, joint, plan, ply, shifted, turned

POSE: tuple[Move, ...] = (turned(23, Axis.X, (3, 1, 4)), turned(-71, Axis.Z), shifted(31, -2, 7))


def mating(axis: Axis, socket: float, part: float, follows: str | None = None) -> Mating:
    return Mating(
        joint="joint", part="part", socket="side", axis=axis, socket_axis=axis,
        socket_size=socket, part_size=part, asked=socket - part, follows=follows,
    )  # fmt: skip


def in_dado(width: float, low: float, high: float, pose: tuple[Move, ...] = ()) -> CutPlan:
    """A shelf of 18 delivered `low..high`, in the middle of a dado."""
    middle = 109.0
    dado = rectangle(-1, middle - width / 2, 201, middle + width / 2)
    return plan(
        board("side", (0, 18), (0, 200), (0, 300), stock="ply18", pose=pose),
        board("part", (12, 400), (0, 200), (100, 118), stock="ash18", pose=pose),
        cuts=(cut("side", "+x", dado, 6, mate="part"),),
        joints=(joint("part", "side", matings=(mating(Axis.Z, width, 18, "ash18"),)),),
        stocks=(replace(ply(18, low, high), name="ash18"), ply(18)),
    )


def in_mortise(pose: tuple[Move, ...] = ()) -> CutPlan:
    """A tenon 9.8 thick, left of 18 by cuts 4.1 deep from both faces, in a mortise of 10; its width
    is cut through from one face: 60 in a mortise of 60.3."""
    tongue = ("-z", "+z")
    faced = tuple(cut("part", side, rectangle(11, -1, 24, 101), 4.1) for side in tongue)
    edges = tuple(
        cut("part", "+z", rectangle(11, low, 24, high), None) for low, high in ((-1, 20), (80, 101))
    )
    mortise = cut("side", "+x", rectangle(19.85, 104, 80.15, 114), 6.5, mate="part")
    return plan(
        board("side", (0, 18), (0, 200), (0, 300), stock="ply18", pose=pose),
        board("part", (12, 400), (0, 100), (100, 118), stock="ash18", pose=pose),
        cuts=(*faced, *edges, mortise),
        joints=(
            joint("part", "side", matings=(mating(Axis.Z, 10, 9.8), mating(Axis.Y, 60.3, 60))),
        ),
        stocks=(replace(ply(18, 17.7, 18.2), name="ash18"), ply(18, 17.9, 18.1)),
    )


def found(made: CutPlan, asked: Asked | None = None) -> tuple[AxisFit, ...]:
    (only,) = fits(Bodies(made), asked).joints
    return only.fits


# ---- against bodies made with the strays ---------------------------------------------------------


def strayed(made: CutPlan, strays: Mapping[Source, float]) -> CutPlan:
    """The plan as it is cut when everything strays so: blanks of other thickness, rectangles wider
    by the bit, shifted with their setup, floors raised with it."""
    thick = {
        stock.name: stock.thick + exact(strays.get(Source(Kind.THICKNESS, stock.name), 0.0))
        for stock in made.design.stocks
    }
    resized = delivered(made, thick)
    return replace(
        resized,
        boards=tuple(
            replace(b, cuts=tuple(_strayed(one, strays) for one in b.cuts)) for b in resized.boards
        ),
    )


def _strayed(one: Cut, strays: Mapping[Source, float]) -> Cut:
    def place(axis: Axis) -> float:
        return strays.get(Source(Kind.PLACE, one.board, one.side, axis), 0.0)

    wider = strays.get(Source(Kind.BIT, one.bit), 0.0) / 2
    (u0, v0, u1, v1), (u, v) = bounds(one.region), one.side.plane
    region: Region = rectangle(
        u0 - wider + place(u), v0 - wider + place(v), u1 + wider + place(u), v1 + wider + place(v)
    )
    raised = place(one.side.axis) * (1 if one.side.positive else -1)
    depth = None if one.depth is None else one.depth - raised
    return replace(one, region=region, depth=depth)


def play_of(made: CutPlan, axis: Axis, deepest: float = 3.0) -> float:
    bodies = Bodies(made)
    way = own_axis(bodies, 1, axis)
    one, other = bodies.faces(1, inset=0.0), bodies.faces(0, inset=0.0)
    total = play(one, other, way, deepest).total
    assert total is not None
    return total


def sum_of(made: CutPlan, axis: Axis) -> Sum:
    bodies = Bodies(made)
    way = own_axis(bodies, 1, axis)
    one, other = bodies.faces(1, inset=0.0), bodies.faces(0, inset=0.0)
    stops = play(one, other, way, 3.0, 1.0)
    back = (-way[0], -way[1], -way[2])
    return Sum(
        tuple(wall_gap(made, 1, 0, pair, way) for pair in stops.ahead),
        tuple(wall_gap(made, 1, 0, pair, back) for pair in stops.behind),
    )


PLANS = [
    pytest.param(lambda pose: in_dado(18.3, 17.6, 18.2, pose), Axis.Z, id="dado"),
    pytest.param(in_mortise, Axis.Z, id="cheeks"),
    pytest.param(in_mortise, Axis.Y, id="edges"),
]


@pytest.mark.parametrize(("make", "axis"), PLANS)
@pytest.mark.parametrize("pose", [(), POSE], ids=["lying", "turned"])
def test_a_play_strays_as_bodies_cut_with_the_strays_do(
    make: object, axis: Axis, pose: tuple[Move, ...]
) -> None:
    made: CutPlan = make(pose)  # type: ignore[operator]  # one of the functions above
    total = sum_of(made, axis)
    assert total.sources
    random = np.random.default_rng(7)
    everything = [
        *(Source(Kind.THICKNESS, stock.name) for stock in made.design.stocks),
        Source(Kind.BIT, "b6"),
        *(
            Source(Kind.PLACE, name, Side(facing, positive), along)
            for name in ("side", "part")
            for facing in Axis
            for positive in (False, True)
            for along in Axis
        ),
    ]
    for _ in range(5):
        strays = {source: round(float(random.uniform(-0.2, 0.2)), 6) for source in everything}
        assert total.at(strays) == pytest.approx(play_of(strayed(made, strays), axis), abs=1e-6)


@pytest.mark.parametrize(("make", "axis"), PLANS)
def test_the_worst_is_the_worst_of_all_corners(make: object, axis: Axis) -> None:
    made: CutPlan = make(())  # type: ignore[operator]
    total, ranges = sum_of(made, axis), ranges_of(made, Tolerances(0.04, 0.06))
    ends = [[(source, end) for end in ranges.of(source)] for source in total.sources]
    plays = [play_of(strayed(made, dict(corner)), axis) for corner in product(*ends)]
    least = worst(total, ranges)
    assert least.least == pytest.approx(min(plays), abs=1e-6)
    assert least.most == pytest.approx(max(plays), abs=1e-6)
    assert play_of(strayed(made, dict(least.corner)), axis) == pytest.approx(least.least, abs=1e-6)


def test_a_tenon_by_hand() -> None:
    """Cheeks cut from both faces: the tenon is as thick as the stock less both depths, so thick
    stock takes from the play one for one, and each setup may be off: 0.2 - 0.2 - 2 x 0.05, and the
    bit 0.02 under size narrows the mortise by as much. The edges are cut in one setup: only the bit
    counts, for the mortise and for both edges: 0.3 - 2 x 0.02."""
    wide, thick = found(in_mortise(), Asked(tolerances=Tolerances(0.02, 0.05)))
    assert (wide.role, thick.role) == ("width", "thickness")
    assert thick.worst.least == pytest.approx(0.2 - 0.2 - 2 * 0.05 - 0.02)
    assert thick.worst.most == pytest.approx(0.2 + 0.3 + 2 * 0.05 + 0.02)
    assert wide.worst.least == pytest.approx(0.3 - 2 * 0.02)
    assert wide.worst.most == pytest.approx(0.3 + 2 * 0.02)


@pytest.mark.parametrize("case", every(), ids=named)
def test_every_joint_measures_as_it_states(case: tuple[object, str]) -> None:
    made = planned(*case)  # type: ignore[arg-type]
    (only,) = fits(Bodies(made), Asked(samples=1)).joints
    stated = {round(each.fit, 9) for one in made.joints for each in one.matings}
    for axis in only.fits:
        assert min(abs(axis.drawn - fit) for fit in stated) < 0.01
        assert axis.worst.least == pytest.approx(axis.drawn)  # no stock strays here
    assert bool(stated) >= bool(only.fits)
    assert only.glued_least.whole <= only.glued.whole + 1e-9


# ---- published fits ------------------------------------------------------------------------------

ISO_286 = [
    # size; hole: EI, IT; shaft: es, IT; clearance: least, greatest; all in thousandths
    pytest.param(25, (0, 21), (-7, 13), (7, 41), id="25 H7/g6"),
    pytest.param(40, (0, 39), (-25, 25), (25, 89), id="40 H8/f7"),
    pytest.param(60, (0, 30), (0, 19), (0, 49), id="60 H7/h6"),
    pytest.param(18, (0, 43), (-32, 27), (32, 102), id="18 H9/e8"),
    pytest.param(100, (0, 220), (-120, 220), (120, 560), id="100 H11/d11"),
]
"""Limits of clearance from the figures of ISO 286-1:2010, Table 1 and the fundamental deviations:
the least is EI - es, the greatest EI + IT of the hole - es + IT of the shaft."""


@pytest.mark.parametrize(("size", "hole", "shaft", "clearance"), ISO_286)
def test_fits_of_iso_286(
    size: int, hole: tuple[int, int], shaft: tuple[int, int], clearance: tuple[int, int]
) -> None:
    """A part of stock delivered within the shaft's limits, in a dado whose bit strays by half the
    hole's grade either way of the middle of its limits."""
    low, high = (size * 1000 + off for off in (shaft[0] - shaft[1], shaft[0]))
    width = size + (hole[0] + hole[1] / 2) / 1000
    middle = 100 + size / 2
    made = plan(
        board("side", (0, 18), (0, 200), (0, 300)),
        board("part", (12, 400), (0, 200), (100, 100 + size), stock="part"),
        cuts=(cut("side", "+x", rectangle(-1, middle - width / 2, 201, middle + width / 2), 6),),
        joints=(joint("part", "side", matings=(mating(Axis.Z, width, size, "part"),)),),
        stocks=(replace(ply(size, low / 1000, high / 1000), name="part"), ply(18)),
    )
    (axis,) = found(made, Asked(tolerances=Tolerances(bit=hole[1] / 2000)))
    assert axis.worst.least == pytest.approx(clearance[0] / 1000, abs=1e-9)
    assert axis.worst.most == pytest.approx(clearance[1] / 1000, abs=1e-9)


# ---- shares --------------------------------------------------------------------------------------


def test_the_share_within_what_is_wanted_in_closed_form() -> None:
    """Thickness even over 17.6..18.2 in a dado of 18.1: a play of 0..0.3 is 17.8..18.1, half."""
    (axis,) = found(in_dado(18.1, 17.6, 18.2), Asked(within=(0.0, 0.3), samples=20_000))
    assert axis.share == pytest.approx(0.5, abs=0.011)  # three standard errors


def test_two_sources_share_a_triangle() -> None:
    """Play is 0.2 + a - b, a of the bit within 0.1 either way and b of the stock too: the sum is a
    triangle over 0..0.4, of which 0.1..0.3 is three quarters."""
    asked = Asked(tolerances=Tolerances(bit=0.1), within=(0.1, 0.3), samples=20_000)
    (axis,) = found(in_dado(18.2, 17.9, 18.1), asked)
    assert axis.share == pytest.approx(0.75, abs=0.01)


def test_shares_repeat_and_follow_the_seed() -> None:
    made = in_dado(18.1, 17.6, 18.2)

    def share(seed: int) -> float:
        return found(made, Asked(within=(0.0, 0.3), seed=seed))[0].share

    assert share(1) == share(1) == 0.508
    assert share(2) != share(1)


def test_joints_that_share_a_stock_stray_together() -> None:
    """Two shelves of one delivery fit or fail together, so the share of pieces is that of fits."""
    side = board("side", (0, 18), (0, 200), (0, 300))
    low, high = 17.6, 18.2
    shelves = [board(n, (12, 400), (0, 200), (z, z + 18), stock="ash18") for n, z in SHELVES]
    cuts = tuple(
        cut("side", "+x", rectangle(-1, z - 0.05, 201, z + 18.05), 6, joint=n) for n, z in SHELVES
    )
    joints = tuple(
        joint(n, "side", name=n, matings=(replace(mating(Axis.Z, 18.1, 18), part=n),))
        for n, _ in SHELVES
    )
    stocks = (replace(ply(18, low, high), name="ash18"), ply(18))
    made = plan(side, *shelves, cuts=cuts, joints=joints, stocks=stocks)
    got: Fits = fits(Bodies(made), Asked(within=(0.0, 0.3)))
    assert len({joint.fits[0].share for joint in got.joints}) == 1
    assert got.joints_within == got.pieces_within == got.joints[0].fits[0].share


SHELVES = (("low", 50.0), ("high", 150.0))


def test_a_line_adds_up() -> None:
    one, other = Source(Kind.BIT, "b"), Source(Kind.THICKNESS, "t")
    line = Gap(1.0, ((one, 2.0), (other, -1.0)))
    assert line.plus(line).at({one: 1.0}) == 2.0 + 4.0
    assert line.minus(line) == Gap(0.0)
