"""Random pieces of a few boards: frames under many families of joints, crosses, puzzles of bars.

A frame is two standing boards with one to three lying ones between them, perhaps a panel behind
them in grooves or a rabbet, perhaps a post. Each end of a lying board has a joint of its own. Much
of what comes out no maker would build; some of it locks itself.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from bars import HALF, SIX, THREE, Bar, Cube, bars_plan, cubes
from dryfit.kernel.board import Board, Box, Move, Span
from dryfit.kernel.design import BoardRef, Design, Join, Option, Word
from dryfit.kernel.joints import families
from dryfit.kernel.joints.family import Family
from dryfit.kernel.plan import CutPlan, cut_plan
from dryfit.kernel.solids import Bodies
from dryfit.kernel.stock import Stock
from pieces import exact
from random_pairs import Spans, random_bits, random_options, random_pose

MOST_TRIES = 200
"""How often a piece is drawn anew where its boards overlap or it cannot be cut."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece no two boards of which share wood, and what it was made as."""

    kind: str
    bodies: Bodies
    bars: tuple[Bar, ...] = ()


def piece_of(dice: random.Random) -> Piece:
    """A random piece: of bars a third of the time, else mostly a frame."""
    while True:
        make = dice.choices((bar_piece, frame_piece, cross_piece), (5, 7, 3))[0]
        made = make(dice)
        if made is not None:
            return made


# ---- bars ----------------------------------------------------------------------------------------


def bar_piece(dice: random.Random) -> Piece | None:
    """Three to six bars that cross in one middle. A cube that two of them would fill goes to one of
    them or to none, each by chance or the same for all that two bars share."""
    for _ in range(MOST_TRIES):
        places = [bar[:3] for bar in dice.choice((SIX, SIX, THREE))]
        chosen = dice.sample(places, dice.choice([n for n in (3, 4, 5, 6, 6) if n <= len(places)]))
        bars = _notched([(*place, ()) for place in chosen], dice)
        if all(_hangs_together(cubes(bar)) for bar in bars):
            return Piece(f"{len(bars)} bars", Bodies(bars_plan(bars)), tuple(bars))
    return None


def _notched(blanks: Sequence[Bar], dice: random.Random) -> list[Bar]:
    lost: list[set[Cube]] = [set() for _ in blanks]
    scattered = dice.choice((0.0, 0.2, 0.5, 1.0))
    whole = [cubes(bar) for bar in blanks]
    for i in range(len(blanks)):
        for j in range(i):
            owner = dice.choice((i, j))
            for cube in sorted(whole[i] & whole[j]):
                other = dice.choice((i, j)) if dice.random() < scattered else owner
                lost[i + j - other].add(cube)
                if dice.random() < scattered / 3:
                    lost[other].add(cube)
    return [(*bar[:3], tuple(sorted(gone))) for bar, gone in zip(blanks, lost, strict=True)]


def _hangs_together(left: frozenset[Cube]) -> bool:
    """Whether the cubes are one lump, and there are enough of them to be a bar."""
    if len(left) < HALF:
        return False
    found, waiting = set[Cube](), [min(left)]
    while waiting:
        x, y, z = cube = waiting.pop()
        if cube in left and cube not in found:
            found.add(cube)
            waiting += [(x + d, y, z) for d in (1, -1)] + [(x, y + d, z) for d in (1, -1)]
            waiting += [(x, y, z + d) for d in (1, -1)]
    return len(found) == len(left)


# ---- frames --------------------------------------------------------------------------------------

ENDS: dict[str, tuple[str, ...]] = {
    "corner": ("box", "box", "blind_box", "drawer_lock", "mitre", "splined_mitre"),
    "edge": ("rabbet", "groove", "tongue", "tongued_corner"),
    "inside": ("dado", "groove", "tongue", "dovetail", "dovetail", "tenon", "pegged_tenon"),
    "slid": ("dovetail",),
    "through": ("tenon", "wedged_tenon", "dado"),
    "meeting": ("butt", "dowels", "cross_dowel", "loose_tenon"),
}
"""Where a lying board may end at a standing one, and what may join it there."""


def frame_piece(dice: random.Random) -> Piece | None:
    """Boards under random joints that can all be cut and leave no wood in wood."""
    for _ in range(MOST_TRIES):
        made = _frame(dice)
        if made is None:
            continue
        bodies = Bodies(made)
        count = len(made.boards)
        if not any(bodies.meet(i, j) for i in range(count) for j in range(i)):
            kinds = sorted({joint.join.family for joint in made.joints})
            return Piece(f"{count} boards, {' '.join(kinds)}", bodies)
    return None


def cross_piece(dice: random.Random) -> Piece | None:
    """Boards along x lapped by boards along y, on edge or flat, each crossing with either over the
    other: woven ones lock."""
    for _ in range(MOST_TRIES):
        bodies = Bodies(made) if (made := _cross(dice)) is not None else None
        if bodies is not None and not any(
            bodies.meet(i, j) for i in range(len(bodies.plan.boards)) for j in range(i)
        ):
            return Piece(f"{len(bodies.plan.boards)} crossed boards", bodies)
    return None


def _cross(dice: random.Random) -> CutPlan | None:
    frame, family = _Frame(dice), dice.choice(("edge_lap", "lap"))
    wide, high = (18.0, 60.0) if family == "edge_lap" else (40.0, 18.0)
    rows, columns = dice.choice(((2, 1), (2, 2), (2, 2), (3, 1), (3, 2), (3, 3), (2, 3)))
    for i in range(rows):
        frame.put(
            f"row{i}", ((0, 100 * columns + 80), (90 * i + 60, 90 * i + 60 + wide), (0, high))
        )
    for j in range(columns):
        low = 100 * j + 70
        frame.put(f"column{j}", ((low, low + wide), (0, 90 * rows + 90), (0, high)))
    first_over = {
        "alike": lambda i, j: True,
        "woven": lambda i, j: (i + j) % 2 == 0,
        "random": lambda i, j: dice.random() < 0.5,
    }[dice.choice(("alike", "woven", "random"))]
    for i in range(rows):
        for j in range(columns):
            over = Word("first" if first_over(i, j) else "second")
            option = Option(name="over", values=(over,))
            if not frame.join(f"row{i}", f"column{j}", (family,), (option,)):
                return None
    return frame.planned()


class _Frame:
    """Boards and joins, put down one by one."""

    def __init__(self, dice: random.Random) -> None:
        self.dice = dice
        self.pose: tuple[Move, ...] = random_pose(dice) if dice.random() < 0.4 else ()
        self.stocks: list[Stock] = []
        self.boards: list[Board] = []
        self.joins: list[Join] = []
        self.bits = random_bits(dice.choice((1.5, 2.0, 3.0)))

    def put(self, name: str, spans: Spans) -> None:
        sides = [Span(exact(round(lo, 3)), exact(round(hi, 3))) for lo, hi in spans]
        thick = min(side.size for side in sides)
        self.stocks.append(Stock(name=f"of_{name}", thick=thick, actual=(thick, thick)))
        self.boards.append(Board(name=name, stock=f"of_{name}", box=Box(*sides), pose=self.pose))

    def join(
        self, one: str, other: str, names: Sequence[str], more: tuple[Option, ...] = ()
    ) -> bool:
        """Whether one of the families takes the two boards; it is then put down."""
        for name in self.dice.sample(names, len(names)):
            family = BY_NAME[name]
            join = Join(
                name=f"joint{len(self.joins)}",
                family=name,
                verb=family.verbs[0] if more else self.dice.choice(family.verbs),
                first=(BoardRef(one),),
                second=(BoardRef(other),),
                options=(*random_options(family, self.dice), *more),
            )
            two = tuple(board for board in self.boards if board.name in (one, other))
            if self._planned(two, (join,)) is not None:
                self.joins.append(join)
                return True
        return False

    def planned(self) -> CutPlan | None:
        return self._planned(tuple(self.boards), tuple(self.joins))

    def _planned(self, boards: tuple[Board, ...], joins: tuple[Join, ...]) -> CutPlan | None:
        design = Design(
            name="piece", stocks=tuple(self.stocks), bits=self.bits, boards=boards, joins=joins
        )
        outcome = cut_plan(design)
        return None if outcome.findings else outcome.value


BY_NAME: dict[str, Family[Any]] = {family.name: family for family in families()}


def _frame(dice: random.Random) -> CutPlan | None:
    frame = _Frame(dice)
    wide, deep, high = dice.uniform(180, 320), dice.uniform(60, 140), dice.uniform(160, 260)
    left, right = dice.uniform(12, 24), dice.uniform(12, 24)
    frame.put("left", ((0, left), (0, deep), (0, high)))
    frame.put("right", ((wide - right, wide), (0, deep), (0, high)))
    levels = dice.sample((0.0, 0.5, 1.0), dice.randrange(1, 4))
    floors: list[tuple[str, float, float]] = []
    alike = dice.choice(list(ENDS)) if dice.random() < 0.6 else None
    for level in levels:
        thick = dice.uniform(9, 20)
        low = level * (high - thick)
        kinds = [alike or dice.choice(list(ENDS)) for _ in range(2)]
        kinds = [_suited(kind, level, dice) for kind in kinds]
        if kinds[0] in ("inside", "slid", "through") and level != 0.5:
            low += dice.uniform(8, 20) * (1 if level == 0.0 else -1)
        name, lows_ = f"floor{len(floors)}", _reach(kinds[0], left, dice)
        far = wide - _reach(kinds[1], right, dice)
        frame.put(name, ((lows_, far), (0, deep), (low, low + thick)))
        floors.append((name, low, low + thick))
        for side, kind in zip(("left", "right"), kinds, strict=True):
            if not frame.join(name, side, ENDS[kind]):
                return None
    if not _more(frame, floors, (left, wide - right, deep, high), dice):
        return None
    return frame.planned()


def _suited(kind: str, level: float, dice: random.Random) -> str:
    """No corner half way up."""
    if level == 0.5 and kind in ("corner", "edge"):
        return dice.choice(("inside", "slid", "through", "meeting"))
    return kind


def _reach(kind: str, thick: float, dice: random.Random) -> float:
    """How far from the outer face of a standing board a lying one begins."""
    if kind in ("corner", "through"):
        return 0.0
    return thick if kind == "meeting" else thick * dice.uniform(0.3, 0.7)


def _more(
    frame: _Frame,
    floors: Sequence[tuple[str, float, float]],
    inner: tuple[float, float, float, float],
    dice: random.Random,
) -> bool:
    """A panel held by all that stands round it, or a post between two floors, or neither."""
    x0, x1, deep, high = inner
    floors = sorted(floors, key=lambda floor: floor[1])
    if dice.random() < 0.6:
        bite, thick = dice.uniform(3, 5), dice.uniform(4, 8)
        at = dice.choice((deep - thick, deep * dice.uniform(0.3, 0.6)))
        ends = [high * 0.2, high * 0.8]
        holders = ["left", "right"]
        if len(floors) > 1:
            ends = [floors[0][2] - bite, floors[1][1] + bite]
            holders += [floors[0][0], floors[1][0]]
        frame.put("panel", ((x0 - bite, x1 + bite), (at, at + thick), (ends[0], ends[1])))
        return all(frame.join("panel", holder, ("groove", "rabbet")) for holder in holders)
    if len(floors) > 1 and dice.random() < 0.5:
        (low, _, z0), (top, z1, _) = floors[0], floors[1]
        bite = dice.choice((0.0, 4.0))
        middle = (x0 + x1) / 2
        frame.put("post", ((middle, middle + 15), (0, deep), (z0 - bite, z1 + bite)))
        names = ENDS["inside"] if bite else ENDS["meeting"]
        return frame.join("post", low, names) and frame.join("post", top, names)
    return True
