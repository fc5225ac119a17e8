"""Random pairs of boards: under every family of joints, or held in each other on purpose."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from dryfit.kernel.board import Axis, Board, Box, Move, Span
from dryfit.kernel.broad import board_pairs
from dryfit.kernel.cuts import Cut
from dryfit.kernel.cutter import Bit, BitKind
from dryfit.kernel.design import BoardRef, Design, Join, Option, OptionValue, Word
from dryfit.kernel.joints import families
from dryfit.kernel.joints.family import Family
from dryfit.kernel.plan import CutPlan, cut_plan
from dryfit.kernel.quantity import COUNT, LENGTH, Quantity
from dryfit.kernel.region import rectangle
from dryfit.kernel.shadows import Faces
from dryfit.kernel.solids import Bodies
from dryfit.kernel.stock import Stock
from dryfit.lang import load
from pieces import cut, exact, plan, shifted, turned

PROGRAMS = Path(__file__).parents[1] / "lang" / "joints"

Spans = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Pair:
    """The bodies of two boards, in the finished piece, and what they were made as."""

    kind: str
    plan: CutPlan
    part: Faces
    mate: Faces


MOST_TRIES = 300
"""How often a kind is drawn anew where its boards overlap or its joint cannot be cut."""


def pair_of(dice: random.Random) -> Pair:
    """A random pair that does not overlap as cut, half of the time under a joint."""
    while True:
        under_joint = dice.random() < 0.5
        family, holding = dice.choice(families()), dice.choice(HELD)
        made = pair_under(family, dice) if under_joint else drawn(holding, holding.__name__, dice)
        if made is not None:
            return made


def pair_under(family: Family[Any], dice: random.Random) -> Pair | None:
    """A random pair under a joint of the family that does not overlap; None where none was met."""
    return drawn(lambda dice: joined(family, dice), family.name, dice)


def drawn(
    make: Callable[[random.Random], CutPlan | None], kind: str, dice: random.Random
) -> Pair | None:
    """The first of many tries whose boards come near each other and do not overlap."""
    for _ in range(MOST_TRIES):
        made = make(dice)
        if made is None:
            continue
        bodies = Bodies(made)
        near = board_pairs([one.board for one in made.boards], 0.0)
        if near and not bodies.meet(0, 1):
            part, mate = (0, 1) if dice.random() < 0.5 else (1, 0)
            return Pair(kind, made, bodies.faces(part), bodies.faces(mate))
    return None


def joined(family: Family[Any], dice: random.Random) -> CutPlan | None:
    """Two boards under the family, None where it or a bit does not take them."""
    own = smallest(family.name)
    if own and dice.random() < 0.5:
        (a, b), bits = _scaled(dice.choice(own), dice)
    else:
        (a, b), bits = dice.choice(SETTINGS)(dice), ()
    stocks, boards = _boards(dice, a, b)
    made = Join(
        name="joint",
        family=family.name,
        verb=dice.choice(family.verbs),
        first=(BoardRef("a"),),
        second=(BoardRef("b"),),
        options=random_options(family, dice),
    )
    bits = (*bits, *random_bits(dice.choice((1.0, 1.5, 2.0, 3.0, 3.175))))
    design = Design(name="pair", stocks=stocks, bits=bits, boards=boards, joins=(made,))
    outcome = cut_plan(design)
    if outcome.findings or outcome.value is None:
        return None
    if family.options and not outcome.value.joints[0].cuts:
        return None
    return outcome.value


def random_bits(radius: float) -> tuple[Bit, ...]:
    r = exact(radius)
    return (
        Bit(name="straight", kind=BitKind.STRAIGHT, radius=r),
        Bit(name="round", kind=BitKind.ROUNDOVER, radius=r, by_hand=True),
        Bit(name="tail", kind=BitKind.DOVETAIL, radius=exact(6), angle=exact(14)),
        Bit(name="vee", kind=BitKind.V, radius=exact(20), angle=exact(90)),
        Bit(name="drill", kind=BitKind.DRILL, radius=exact(4)),
    )


def _boards(
    dice: random.Random, a: Spans, b: Spans, mirrored: bool = True
) -> tuple[tuple[Stock, ...], tuple[Board, Board]]:
    """The boards on a grid of a micron, each of a stock as thick as its least side."""
    stocks, boards = [], []
    flips = [dice.choice((1, -1)) if mirrored else 1 for _ in range(3)]
    pose = random_pose(dice)
    for name, spans in (("a", a), ("b", b)):
        sides = [
            Span(*sorted((exact(round(f * lo, 3)), exact(round(f * hi, 3)))))
            for (lo, hi), f in zip(spans, flips, strict=True)
        ]
        thick = min(side.size for side in sides)
        stocks.append(Stock(name=f"of_{name}", thick=thick, actual=(thick, thick)))
        boards.append(Board(name=name, stock=f"of_{name}", box=Box(*sides), pose=pose))
    return tuple(stocks), (boards[0], boards[1])


def random_pose(dice: random.Random) -> tuple[Move, ...]:
    """Square to the axes half of the time, else turned by any angle; shifted somewhere."""
    if dice.random() < 0.3:
        return ()
    angle = 90.0 * dice.randrange(4) if dice.random() < 0.3 else round(dice.uniform(-180, 180), 2)
    by = (round(dice.uniform(-900, 900), 2) for _ in range(3))
    return (turned(angle, dice.choice(tuple(Axis))), shifted(*by))


def random_options(family: Family[Any], dice: random.Random) -> tuple[Option, ...]:
    known = {spec.name for spec in family.options}
    wanted: dict[str, OptionValue] = {
        "relief": Word(dice.choice(("corner", "side", "swept", "half_round", "long"))),
        "fit": Quantity(exact(dice.choice((0, 0.05, 0.1, 0.25, 0.5))), LENGTH),
    }
    if dice.random() < 0.7:
        wanted["pins"] = Quantity(exact(dice.randrange(2, 8)), COUNT)
    if dice.random() < 0.5:
        wanted["cheeks"] = Quantity(exact(round(dice.uniform(1, 4), 2)), LENGTH)
        wanted["edges"] = Quantity(exact(round(dice.uniform(1, 12), 2)), LENGTH)
    return tuple(
        Option(name=name, values=(value,)) for name, value in wanted.items() if name in known
    )


def _corner(dice: random.Random) -> tuple[Spans, Spans]:
    ta, tb = dice.uniform(9, 24), dice.uniform(9, 24)
    width = dice.uniform(60, 160)
    return (
        ((0, ta), (0, width), (0, 150)),
        ((0, 180), (0, width), (150 - tb, 150)),
    )


def _shelf(dice: random.Random) -> tuple[Spans, Spans]:
    ta, tb = dice.uniform(6, 24), dice.uniform(12, 30)
    deep, front = tb * dice.uniform(0.2, 0.8), dice.choice((0, dice.uniform(5, 30)))
    back = dice.choice((0, dice.uniform(5, 30)))
    return (
        ((tb - deep, 200), (front, 120 - back), (60, 60 + ta)),
        ((0, tb), (0, 120), (0, 140)),
    )


def _edge(dice: random.Random) -> tuple[Spans, Spans]:
    ta, tb = dice.uniform(6, 18), dice.uniform(12, 30)
    deep = tb * dice.uniform(0.2, 0.8)
    return (
        ((tb - deep, 200), (0, 120), (140 - ta, 140)),
        ((0, tb), (0, 120), (0, 140)),
    )


def _rail(dice: random.Random) -> tuple[Spans, Spans]:
    ta, post = dice.uniform(12, 24), dice.uniform(30, 50)
    inside = dice.choice((dice.uniform(0.3, 0.9) * post, post, post + 6))
    y = (post - ta) / 2
    return (
        ((post - inside, 200), (y, y + ta), (60, 120)),
        ((0, post), (0, post), (0, 200)),
    )


def _cross(dice: random.Random) -> tuple[Spans, Spans]:
    ta, tb = dice.uniform(9, 24), dice.uniform(9, 24)
    wide = dice.uniform(30, 60)
    flat = dice.random() < 0.5
    if flat:
        return (((-90, 90), (0, wide), (0, ta)), ((0, wide), (-80, 100), (0, ta)))
    return (((-90, 90), (0, ta), (0, 80)), ((0, tb), (-80, 100), (0, 80)))


@cache
def programs() -> tuple[Design, ...]:
    read = (load(path).value for path in sorted(PROGRAMS.glob("*.dry")))
    return tuple(design for design in read if design is not None)


def smallest(family: str) -> tuple[Design, ...]:
    """The smallest programs of a family, one for each of its kinds, whose two boards are not turned
    against each other."""
    return tuple(
        design
        for design in programs()
        if design.joins[0].family == family and not any(board.pose for board in design.boards)
    )


def _scaled(design: Design, dice: random.Random) -> tuple[tuple[Spans, Spans], tuple[Bit, ...]]:
    """The boards of a smallest program, larger or smaller as a whole, with its bits as they are."""
    size = dice.uniform(0.9, 1.5)
    boards = {board.name: board.box for board in design.boards}
    a, b = (
        tuple((size * float(boards[name][k].lo), size * float(boards[name][k].hi)) for k in Axis)
        for name in (design.joins[0].first[0].name, design.joins[0].second[0].name)
    )
    return (a, b), design.bits


SETTINGS = (_corner, _shelf, _edge, _rail, _cross)
"""How two boards may stand to each other: (spans of a, spans of b)."""


# ---- boards that hold each other on purpose ------------------------------------------------------


def _made(dice: random.Random, a: Spans, b: Spans, cuts: Sequence[Cut]) -> CutPlan:
    stocks, boards = _boards(dice, a, b, mirrored=False)
    return plan(*boards, cuts=tuple(cuts), stocks=stocks)


def hook(dice: random.Random) -> CutPlan:
    """A bar with a waist in a hole: its ends are wider than the hole, or one of them is not."""
    plate, bar = dice.uniform(9, 25), dice.uniform(6, 18)
    waist, gap = dice.uniform(10, 30), dice.choice((0.0, 0.05, 0.5, 3.0))
    wide = waist + dice.choice((0.001, 0.02, 1.0, 10.0)) + gap
    hole = rectangle(-bar / 2 - gap, -waist - gap, bar / 2 + gap, waist + gap)
    y0, y1 = (-gap, 200.0) if dice.random() < 0.3 else (-gap, plate + gap)
    waists = [rectangle(waist, y0, wide + 1, y1), rectangle(-wide - 1, y0, -waist, y1)]
    return _made(
        dice,
        ((-100, 100), (0, plate), (-90, 90)),
        ((-wide, wide), (-120, 130), (-bar / 2, bar / 2)),
        [cut("a", "+y", hole, None), *(cut("b", "+z", region, None) for region in waists)],
    )


def t_slot(dice: random.Random) -> CutPlan:
    """A T in a slot of its section along y, open at both ends, at one, or closed for its stem."""
    fit, stem = dice.choice((0.0, 0.05, 0.2, 1.0)), dice.uniform(4, 10)
    head, low = stem + dice.choice((0.03, 1.0, 10.0)) + fit, dice.uniform(4, 10)
    front, back = dice.choice((True, False)), dice.choice((True, False))
    y0, y1 = (-1.0 if front else 10.0), (81.0 if back else 70.0)
    slot = rectangle(-stem - fit, y0, stem + fit, y1)
    hollow = rectangle(10.0 - fit, -head - fit, 10.0 + low + fit, head + fit)
    shoulders = (
        rectangle(10.0 + low, -head - 1.0, 61.0, -stem),
        rectangle(10.0 + low, stem, 61.0, head + 1.0),
    )
    cuts = [
        cut("b", "+z", slot, 30.0 + fit),
        cut("b", "+y" if back and not front else "-y", hollow, None if front and back else 70.0),
        *(cut("a", "+y", region, None) for region in shoulders),
    ]
    a = ((-head, head), (max(y0, 0.0) + 1.0, min(y1, 80.0) - 1.0), (10, 60))
    return _made(dice, a, ((-40, 40), (0, 80), (0, 40)), cuts)


def tray(dice: random.Random) -> CutPlan:
    """A panel in a window or a pocket of a board, fitting it closely: free along one axis."""
    fit, deep = dice.choice((0.0, 0.02, 0.1)), dice.choice((None, dice.uniform(5, 20)))
    wide, high = (round(dice.uniform(20, 60), 3) for _ in "xy")
    low = 0.0 if deep is None else round(24 - deep, 3)
    hole = rectangle(-wide - fit, -high - fit, wide + fit, high + fit)
    a = ((-wide, wide), (-high, high), (low, low + dice.uniform(2, 24 - low)))
    b = ((-90, 90), (-90, 90), (0, 24))
    return _made(dice, a, b, [cut("b", "+z", hole, None if deep is None else 24 - low)])


def soup(dice: random.Random) -> CutPlan:
    """Two blocks near each other with cuts anywhere, on a grid so that faces often lie flush."""
    spans: list[Spans] = []
    cuts: list[Cut] = []
    for name in "ab":
        spans.append(tuple((lo, lo + dice.randrange(20, 60)) for lo in _lows(dice)))
        cuts += [_bite(name, spans[-1], dice) for _ in range(dice.randrange(1, 5))]
    return _made(dice, spans[0], spans[1], cuts)


def _lows(dice: random.Random) -> list[int]:
    return [dice.randrange(-30, 10) for _ in "xyz"]


def _bite(name: str, spans: Spans, dice: random.Random) -> Cut:
    """A rectangular cut from any side."""
    axis = dice.randrange(3)
    (u0, u1), (v0, v1) = spans[(axis + 1) % 3], spans[(axis + 2) % 3]
    wide, high = round(dice.uniform(0.3, 1) * (u1 - u0)), round(dice.uniform(0.3, 1) * (v1 - v0))
    u, v = round(dice.uniform(u0 - 5, u1 - wide + 5)), round(dice.uniform(v0 - 5, v1 - high + 5))
    deep = dice.choice((None, round((spans[axis][1] - spans[axis][0]) * dice.uniform(0.3, 0.9))))
    side = f"{dice.choice('+-')}{'xyz'[axis]}"
    return cut(name, side, rectangle(u, v, u + wide, v + high), deep)


HELD = (hook, t_slot, tray, soup)
