"""Puzzles of notched bars, made of cubes of 10 mm, and what simple counting of cubes says of them.

A bar is two cubes thick and six long. Its notches are cut records, a cube each. `leaving` looks at
every set of bars and every direction, cube by cube, without anything of the kernel.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dryfit.kernel.board import Axis
from dryfit.kernel.cuts import Side
from dryfit.kernel.plan import CutPlan
from dryfit.kernel.region import rectangle
from pieces import board, cut, plan

UNIT = 10
HALF = 3
"""Bars reach from -3 to 3 cubes along their own axis."""

Cube = tuple[int, int, int]
Way = tuple[int, int]
"""An axis, and 1 or -1."""

WAYS: tuple[Way, ...] = tuple((axis, sign) for axis in range(3) for sign in (1, -1))

# Six bars, a pair along each axis: the low cubes along the next axis and the one after that. No
# bar leaves but the first, then none but the last, then a set of four, and so on: found by search,
# counting cubes as `leaving` does.
SIX: tuple[tuple[int, int, int, tuple[Cube, ...]], ...] = (
    (0, -2, -1, ()),
    (
        0,
        0,
        -1,
        (
            (-2, 0, -1), (-2, 0, 0), (-1, 0, -1), (-1, 0, 0), (0, 1, -1), (1, 0, -1), (1, 0, 0),
        ),
    ),
    (
        1,
        -2,
        -1,
        ((-1, -2, -1), (-1, -1, -1), (-1, 1, -1), (0, -2, -1), (0, -1, -1), (0, 0, -1)),
    ),
    (
        1,
        0,
        -1,
        (
            (-1, -2, 0), (-1, -1, 0), (-1, 0, 0), (-1, 0, 1), (-1, 1, 0), (0, -2, 0), (0, -1, 0),
            (0, 0, 0), (0, 1, 0),
        ),
    ),
    (
        2,
        -2,
        -1,
        (
            (-2, -1, -1), (-2, -1, 0), (-1, -1, -2), (-1, -1, -1), (-1, -1, 0), (-1, -1, 1),
            (-1, 0, -2), (-1, 0, -1),
        ),
    ),
    (
        2,
        0,
        -1,
        (
            (0, -1, -2), (0, -1, -1), (0, -1, 0), (0, -1, 1), (0, 0, -2), (0, 0, -1), (0, 0, 0),
            (0, 0, 1), (1, -1, -1), (1, -1, 0),
        ),
    ),
)  # fmt: skip

# Three bars through one middle that lock each other, any two of which come apart.
THREE: tuple[tuple[int, int, int, tuple[Cube, ...]], ...] = (
    (0, -1, -1, ((-1, 0, -1), (-1, 0, 0), (0, -1, 0), (0, 0, 0))),
    (
        1,
        -1,
        -1,
        ((-1, -1, -1), (-1, -1, 0), (-1, 0, -1), (-1, 0, 0), (0, -1, -1), (0, 0, -1)),
    ),
    (
        2,
        -1,
        -1,
        ((-1, -1, -1), (-1, -1, 0), (0, -1, -1), (0, -1, 0), (0, 0, -1), (0, 0, 0)),
    ),
)  # fmt: skip

Bar = tuple[int, int, int, tuple[Cube, ...]]


def lows(bar: Bar) -> Cube:
    """The least cube of a bar's blank."""
    axis, low_u, low_v, _ = bar
    least = [0, 0, 0]
    least[axis], least[(axis + 1) % 3], least[(axis + 2) % 3] = -HALF, low_u, low_v
    return least[0], least[1], least[2]


def cubes(bar: Bar) -> frozenset[Cube]:
    """What is left of a bar."""
    axis, least = bar[0], lows(bar)
    sizes = [2 * HALF if a == axis else 2 for a in range(3)]
    return frozenset(
        (least[0] + i, least[1] + j, least[2] + k)
        for i in range(sizes[0])
        for j in range(sizes[1])
        for k in range(sizes[2])
    ) - frozenset(bar[3])


def bars_plan(bars: Sequence[Bar]) -> CutPlan:
    """The bars as boards `bar0`, `bar1`, …, each notch a pocket from a long side."""
    boards, cuts = [], []
    for number, bar in enumerate(bars):
        name, axis, least = f"bar{number}", bar[0], lows(bar)
        spans = [
            (UNIT * low, UNIT * (low + (2 * HALF if a == axis else 2)))
            for a, low in enumerate(least)
        ]
        boards.append(board(name, *spans, stock="ply20", grain=Axis(axis)))
        for cube in bar[3]:
            facing = Axis((axis + 1) % 3)
            positive = cube[facing] > least[facing]
            u, v = Side(facing, positive).plane
            square = rectangle(
                UNIT * cube[u], UNIT * cube[v], UNIT * (cube[u] + 1), UNIT * (cube[v] + 1)
            )
            cuts.append(cut(name, f"{'+' if positive else '-'}{facing.letter}", square, UNIT))
    return plan(*boards, cuts=tuple(cuts))


def leaving(pieces: Sequence[frozenset[Cube]], whole: int) -> Iterator[tuple[int, Way]]:
    """Every set of some of `whole` that leaves the others along an axis, cube by cube."""
    inside = [i for i in range(len(pieces)) if whole >> i & 1]
    for moving in range(1, whole):
        if moving & ~whole:
            continue
        mine = frozenset[Cube]().union(*(pieces[i] for i in inside if moving >> i & 1))
        others = frozenset[Cube]().union(*(pieces[i] for i in inside if not moving >> i & 1))
        for way in WAYS:
            if not any(_ahead(cube, way, others) for cube in mine):
                yield moving, way


def _ahead(cube: Cube, way: Way, others: frozenset[Cube]) -> bool:
    axis, sign = way
    for far in range(1, 4 * HALF):
        at = [*cube]
        at[axis] += sign * far
        if (at[0], at[1], at[2]) in others:
            return True
    return False
