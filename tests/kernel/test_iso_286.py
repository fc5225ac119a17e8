"""Published limits and fits against the worst plays told, and shares against their closed form.

ISO 286-1:2010 gives the limits of holes and shafts in thousandths of a mm; a fit such as H7/g6 has
a least and a greatest clearance, `EI - es` and `ES - ei`. Here the hole is a dado whose bit strays,
the shaft a shelf as thick as its stock comes. Two roads lead to a grade: its table, and the unit
that the table was rounded from.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import factorial, prod, sqrt

import pytest
from dryfit.kernel.board import Axis
from dryfit.kernel.cuts import Cut
from dryfit.kernel.fits import Asked, AxisFit, fits
from dryfit.kernel.plan import CutPlan
from dryfit.kernel.region import bounds, rectangle
from dryfit.kernel.solids import Bodies
from dryfit.kernel.straying import Tolerances
from pieces import board, cut, joint, plan, ply
from test_fits import in_dado, in_mortise, mating

MICRON = 0.001


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A nominal size, mm, the range it lies in, over `low` up to `high`, and that range's figures
    in thousandths. IT6, IT7, IT8 are standard tolerances (ISO 286-1:2010, Table 1), `f` and `g` the
    upper deviations of those shafts. `p`, the lower deviation of shafts p, is from memory."""

    size: int
    low: int
    high: int
    it6: int
    it7: int
    it8: int
    f: int
    g: int
    p: int


SIZES = (
    Size(size=6, low=3, high=6, it6=8, it7=12, it8=18, f=-10, g=-4, p=12),
    Size(size=9, low=6, high=10, it6=9, it7=15, it8=22, f=-13, g=-5, p=15),
    Size(size=12, low=10, high=18, it6=11, it7=18, it8=27, f=-16, g=-6, p=18),
    Size(size=25, low=18, high=30, it6=13, it7=21, it8=33, f=-20, g=-7, p=22),
    Size(size=40, low=30, high=50, it6=16, it7=25, it8=39, f=-25, g=-9, p=26),
    Size(size=60, low=50, high=80, it6=19, it7=30, it8=46, f=-30, g=-10, p=32),
    Size(size=100, low=80, high=120, it6=22, it7=35, it8=54, f=-36, g=-12, p=37),
)

CLEARANCES = {
    # (fit, size): least and greatest clearance, thousandths, worked by hand from the limits.
    ("H7/g6", 6): (4, 24),
    ("H7/g6", 25): (7, 41),  # hole 25.000..25.021, shaft 24.980..24.993
    ("H7/g6", 40): (9, 50),
    ("H7/g6", 100): (12, 69),
    ("H7/h6", 12): (0, 29),
    ("H7/h6", 25): (0, 34),
    ("H7/h6", 60): (0, 49),
    ("H7/p6", 6): (-20, 0),
    ("H7/p6", 25): (-35, -1),  # shaft 25.022..25.035: it is always wider than the hole
    ("H7/p6", 60): (-51, -2),
    ("H7/p6", 100): (-59, -2),
    ("H8/f7", 12): (16, 61),
    ("H8/f7", 40): (25, 89),
}
"""Below 0 the shaft is wider than the hole."""


@pytest.mark.parametrize("size", SIZES, ids=lambda size: str(size.size))
def test_the_grades_are_those_that_their_unit_rounds_to(size: Size) -> None:
    """i = 0.45 D^(1/3) + 0.001 D, D the geometric mean of the range; 10, 16 and 25 of them."""
    middle = sqrt(size.low * size.high)
    unit = 0.45 * middle ** (1 / 3) + 0.001 * middle
    for grade, units in ((size.it6, 10), (size.it7, 16), (size.it8, 25)):
        assert grade == pytest.approx(units * unit, abs=0.75)


def limits(fit: str, size: Size) -> tuple[tuple[int, int], tuple[int, int]]:
    """The limits of hole and shaft about the nominal size."""
    hole = (0, size.it7 if fit.startswith("H7") else size.it8)
    match fit.partition("/")[2]:
        case "f7":
            return hole, (size.f - size.it7, size.f)
        case "g6":
            return hole, (size.g - size.it6, size.g)
        case "p6":
            return hole, (size.p, size.p + size.it6)
    return hole, (-size.it6, 0)


def fitted(fit: str, size: Size, within: tuple[float, float] | None = None) -> AxisFit:
    """A shelf whose stock comes within the shaft's limits, in a dado of the middle of the hole's
    limits, whose bit strays by half their width."""
    hole, shaft = limits(fit, size)
    low, high = (size.size + off * MICRON for off in shaft)
    width, middle = size.size + hole[1] * MICRON / 2, 100 + size.size / 2
    made = plan(
        board("side", (0, 18), (0, 200), (0, 300)),
        board("part", (12, 400), (0, 200), (100, 100 + size.size), stock="part"),
        cuts=(cut("side", "+x", rectangle(-1, middle - width / 2, 201, middle + width / 2), 6),),
        joints=(joint("part", "side", matings=(mating(Axis.Z, width, size.size, "part"),)),),
        stocks=(
            replace(ply(size.size, round(low, 4), round(high, 4)), name="part"),
            ply(18),
        ),
    )
    asked = Asked(
        tolerances=Tolerances(bit=hole[1] * MICRON / 2), within=within, samples=SHARE_SAMPLES
    )
    return only(made, asked)


SHARE_SAMPLES = 20_000
SHARE_ERROR = 3 * sqrt(0.25 / SHARE_SAMPLES)
"""Three standard errors of a share of so many."""


def only(made: CutPlan, asked: Asked, role: str = "thickness") -> AxisFit:
    (joint_fit,) = fits(Bodies(made), asked).joints
    return next(axis for axis in joint_fit.fits if axis.role == role)


BY_SIZE = {size.size: size for size in SIZES}


@pytest.mark.parametrize(("named", "clearance"), CLEARANCES.items(), ids=str)
def test_clearances_of_published_fits(named: tuple[str, int], clearance: tuple[int, int]) -> None:
    fit, size = named
    worst = fitted(fit, BY_SIZE[size]).worst
    assert worst.least == pytest.approx(clearance[0] * MICRON, abs=1e-9)
    assert worst.most == pytest.approx(clearance[1] * MICRON, abs=1e-9)


# ---- shares --------------------------------------------------------------------------------------


def share_below(limit: float, start: float, widths: Sequence[float]) -> float:
    """The share of sums below a limit: each sum is `start` and a figure from 0 up to each width,
    any as likely as another. By inclusion and exclusion of the corners of the box they fill."""
    n, total = len(widths), 0.0
    for count in range(n + 1):
        for some in combinations(widths, count):
            total += (-1) ** count * max(limit - start - sum(some), 0.0) ** n
    return total / (factorial(n) * prod(widths))


def test_shares_below_in_closed_form_add_up() -> None:
    """One width is a straight line, two a triangle whose first half is half, any number up to 1."""
    assert share_below(0.25, 0.0, [1.0]) == pytest.approx(0.25)
    assert share_below(1.0, 0.0, [1.0, 1.0]) == pytest.approx(0.5)
    assert share_below(1.0, 0.0, [1.0, 1.0, 1.0]) == pytest.approx(1 / 6)
    assert share_below(9.0, 1.0, [2.0, 3.0, 1.0]) == pytest.approx(1.0)


@pytest.mark.parametrize("fit", ["H7/g6", "H7/h6", "H7/p6", "H8/f7"])
@pytest.mark.parametrize("wanted", [(0, 20), (15, 30), (-10, 5)])
def test_the_share_of_a_published_fit(fit: str, wanted: tuple[int, int]) -> None:
    """Hole and shaft each come anywhere between their limits: a trapezoid."""
    size = BY_SIZE[25]
    hole, shaft = limits(fit, size)
    widths = [hole[1] - hole[0], shaft[1] - shaft[0]]
    low, high = (share_below(end, hole[0] - shaft[1], widths) for end in wanted)
    axis = fitted(fit, size, (wanted[0] * MICRON, wanted[1] * MICRON))
    assert axis.share == pytest.approx(high - low, abs=SHARE_ERROR)


def test_four_sources_share_what_their_closed_form_says() -> None:
    """The tenon of `in_mortise`: thickness over 0.5, two setups over 0.1 each, the bit over 0.04;
    the least play is -0.12 (0.2 - 0.2 - 0.1 - 0.02)."""
    widths = [0.5, 0.1, 0.1, 0.04]
    for low, high in ((0.0, 0.3), (0.1, 0.2), (0.4, 0.7)):
        truth = share_below(high, -0.12, widths) - share_below(low, -0.12, widths)
        asked = Asked(tolerances=Tolerances(0.02, 0.05), within=(low, high), samples=SHARE_SAMPLES)
        assert only(in_mortise(), asked).share == pytest.approx(truth, abs=SHARE_ERROR)


def test_a_share_does_not_change_with_what_else_there_is() -> None:
    """Each source is drawn for itself: another joint, of another stock, moves no draw of this."""
    alone = in_dado(18.1, 17.6, 18.2)
    z, width = 200.0, 12.1
    other = board("other", (12, 400), (0, 200), (z, z + 12), stock="ash12")
    dado = cut("side", "+x", rectangle(-1, z - 0.05, 201, z + width - 0.05), 6, joint="more")
    more = joint(
        "other",
        "side",
        name="more",
        matings=(replace(mating(Axis.Z, width, 12, "ash12"), joint="more", part="other"),),
    )
    stocks = (*alone.design.stocks, replace(ply(12, 11.8, 12.2), name="ash12"))
    both = plan(
        *(one.board for one in alone.boards),
        other,
        cuts=(*(made for one in alone.boards for made in one.cuts), dado),
        joints=(*alone.joints, more),
        stocks=stocks,
    )
    asked = Asked(within=(0.0, 0.3), seed=11)
    first, _ = fits(Bodies(both), asked).joints
    assert first.fits[0].share == only(alone, asked).share
    assert fits(Bodies(both), asked) == fits(Bodies(both), asked)


# ---- bits and setups, by hand --------------------------------------------------------------------


def test_a_bit_off_by_five_hundredths_in_a_dado() -> None:
    """Dado 18.3, shelf 18: 0.3. A bit 0.05 over size takes 0.025 more from either wall, 0.05 in
    all; one under size leaves as much. A blank that lies 0.1 off moves both walls alike."""
    for placement in (0.0, 0.1):
        worst = only(in_dado(18.3, 18, 18), Asked(tolerances=Tolerances(0.05, placement))).worst
        assert worst.least == pytest.approx(0.3 - 0.05)
        assert worst.most == pytest.approx(0.3 + 0.05)


def _turned_over(made: Cut) -> Cut:
    """The through cut of the upper edge from below."""
    if made.depth is None and bounds(made.region)[1] > 50:
        return replace(made, side=made.side.opposite)
    return made


def test_edges_cut_in_two_setups_stray_apart() -> None:
    """A tenon 60 wide in a mortise of 60.3. Cut in one setup its edges move together. When the
    board is turned over between them each is off by the place of its own setup, 0.05: the tenon may
    be 0.1 wider. The bit counts as before, 0.02 on the mortise and 0.01 on either edge."""
    one_setup = in_mortise()
    two_setups = replace(
        one_setup,
        boards=tuple(
            replace(each, cuts=tuple(_turned_over(made) for made in each.cuts))
            for each in one_setup.boards
        ),
    )
    asked = Asked(tolerances=Tolerances(0.02, 0.05))
    together, apart = (only(made, asked, "width").worst for made in (one_setup, two_setups))
    assert (together.least, together.most) == pytest.approx((0.3 - 0.04, 0.3 + 0.04))
    assert (apart.least, apart.most) == pytest.approx((0.3 - 0.04 - 0.1, 0.3 + 0.04 + 0.1))
