"""In which steps does a piece go together, a straight move at a time?

In: bodies. Out: the stages and steps from the first two boards to the whole piece, or the boards
that are locked. The piece is taken apart (`order.py`) and the steps are that in reverse; each
moving set is put together before it is brought in.

An assembly put down is kept whole: it is one node while the piece is taken apart, and is taken
apart itself after that. Where that locks the piece, those in the lock are opened and their boards
go in one by one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from .blocking import Blocking, Graph, corners, members, reverse
from .board import Box
from .design import Verb
from .groups import declared
from .insertion import pairs_that_touch
from .locked import Lock, first_tried, lock_from, then_tried
from .order import Locked, Split, Taste, parted
from .plan import CutPlan, Joint
from .shadows import Booleans, Floats, Vector
from .solids import Bodies
from .steps import Assembly, Stage, Step, Way


def assembly(bodies: Bodies) -> Assembly | Lock:
    """The stages of a piece; no two of its boards may share wood."""
    boards = range(len(bodies.plan.boards))
    blocking = Blocking(bodies, boards)
    directions = first_tried(bodies, boards)
    graphs = [blocking.graph(direction, blocking.everything) for direction in directions]
    found = _Taking(bodies.plan, graphs).apart()
    if isinstance(found, Locked) or found.opened:
        more = [d for d in then_tried(bodies, boards) if d not in directions]
        graphs += [blocking.graph(direction, blocking.everything) for direction in more]
        found = _Taking(bodies.plan, graphs).apart()
    if isinstance(found, Locked):
        return lock_from(blocking, graphs, found.nodes)
    return _Telling(bodies.plan, found).assembly()


# ---- taking apart --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Apart:
    """How a piece comes apart: the split of each set, and the assemblies that had to be opened."""

    splits: Mapping[int, Split]
    opened: tuple[str, ...]


class _Taking:
    """A piece on the way from whole to single boards, assemblies kept whole as long as can be."""

    def __init__(self, plan: CutPlan, graphs: Sequence[Graph]) -> None:
        names = [one.board.name for one in plan.boards]
        index = {name: i for i, name in enumerate(names)}
        self.graphs = graphs
        self.declared = declared(names)
        self.everything = (1 << len(names)) - 1
        self.ties = [
            (index[joint.first.name], index[joint.second.name])
            for joint in plan.joints
            if joint.first.name in index and joint.second.name in index
        ]
        self.weights = [_volume(one.board.box) for one in plan.boards]
        self.blanks = corners(plan.boards)

    def apart(self) -> Apart | Locked:
        """The splits of everything; Locked nodes are boards."""
        splits: dict[int, Split] = {}
        opened: list[str] = []
        for name, whole in (("", self.everything), *self.declared.items()):
            if name in opened:
                continue
            units = self._units(whole, opened)
            found = self._parted(units)
            while isinstance(found, Locked):
                held = [unit for i, unit in enumerate(units) if found.nodes >> i & 1]
                inside = [path for path, boards in self.declared.items() if boards in held]
                if not inside:
                    return Locked(sum(held))
                opened += inside
                units = self._units(whole, opened)
                found = self._parted(units)
            for split in found:
                moving, staying = (_union(units, s) for s in (split.moving, split.staying))
                splits[moving | staying] = Split(moving, staying, split.out)
        return Apart(splits, tuple(opened))

    def _units(self, whole: int, opened: Sequence[str]) -> tuple[int, ...]:
        """The largest assemblies within a set that are not opened, and the boards in none."""
        units: list[int] = []
        left = whole
        for name, boards in self.declared.items():
            if boards & left == boards != whole and name not in opened:
                units.append(boards)
                left &= ~boards
        units += [1 << board for board in members(left)]
        return tuple(sorted(units, key=lambda unit: unit & -unit))

    def _parted(self, units: Sequence[int]) -> tuple[Split, ...] | Locked:
        owner = {board: i for i, unit in enumerate(units) for board in members(unit)}
        merged = [_merged(graph, units, owner) for graph in self.graphs]
        ties = [(owner[i], owner[j]) for i, j in self.ties if i in owner and j in owner]
        taste = Taste(
            ties=[(i, j) for i, j in ties if i != j],
            weights=[sum(self.weights[board] for board in members(unit)) for unit in units],
            travel=Reach(self.blanks, units).beside,
        )
        return parted(merged, (1 << len(units)) - 1, taste)


def _union(units: Sequence[int], chosen: int) -> int:
    return sum(units[i] for i in members(chosen))


def _merged(graph: Graph, units: Sequence[int], owner: Mapping[int, int]) -> Graph:
    """The graph of whole units: one hits another when a board of it hits one of the other's."""
    whole = sum(units)
    hits = []
    for unit in units:
        ahead = 0
        for board in members(unit):
            ahead |= graph.hits[board]
        ahead &= whole & ~unit
        met = 0
        while ahead:
            other = owner[(ahead & -ahead).bit_length() - 1]
            met |= 1 << other
            ahead &= ~units[other]
        hits.append(met)
    return Graph(graph.direction, tuple(hits))


def _volume(box: Box) -> float:
    return float(box.x.size * box.y.size * box.z.size)


# ---- telling -------------------------------------------------------------------------------------


class _Telling:
    """The splits of a piece turned round into steps, and these gathered into stages."""

    def __init__(self, plan: CutPlan, apart: Apart) -> None:
        self.plan = plan
        self.apart = apart
        self.names = [one.board.name for one in plan.boards]
        index = {name: i for i, name in enumerate(self.names)}
        self.declared = {boards: name for name, boards in declared(self.names).items()}
        self.reach = Reach(corners(plan.boards), [1 << i for i in range(len(self.names))])
        self.rank = {joint.name: i for i, joint in enumerate(plan.joints)}
        self.joints: dict[int, list[tuple[int, Joint]]] = {}
        for joint in plan.joints:
            first, second = index.get(joint.first.name), index.get(joint.second.name)
            if first is not None and second is not None:
                self.joints.setdefault(first, []).append((second, joint))
                self.joints.setdefault(second, []).append((first, joint))
        self.touching: dict[int, int] = {}
        for i, j in pairs_that_touch(plan):
            self.touching[i] = self.touching.get(i, 0) | 1 << j
            self.touching[j] = self.touching.get(j, 0) | 1 << i

    def assembly(self) -> Assembly:
        whole = (1 << len(self.names)) - 1
        stages = [self._stage(run) for chain in self._chains(whole) for run in self._runs(chain)]
        return Assembly(stages=tuple(stages), opened=self.apart.opened)

    def _chains(self, whole: int) -> Iterator[list[Split]]:
        """Splits, last first, each bringing something to one growing set; before them those that
        put together what is brought. What moves is the smaller side: chains nest a few deep."""
        chain = []
        while whole in self.apart.splits:
            chain.append(self.apart.splits[whole])
            whole = chain[-1].staying
        chain.reverse()
        for split in chain:
            yield from self._chains(split.moving)
        if chain:
            yield chain

    def _runs(self, chain: Sequence[Split]) -> Iterator[list[Split]]:
        """A chain cut where an assembly is complete, and where joints are closed or are not."""
        run: list[Split] = []
        for split in chain:
            if run and (self._closes(run[-1]) != self._closes(split) or self._completes(run[-1])):
                yield run
                run = []
            run.append(split)
        yield run

    def _completes(self, split: Split) -> bool:
        return split.moving | split.staying in self.declared

    def _closes(self, split: Split) -> bool:
        return any(True for _ in self._closed(split))

    def _closed(self, split: Split) -> Iterator[tuple[int, Joint]]:
        """The joints that a step closes, in the order of the design, each with its still board."""
        found: dict[str, tuple[int, Joint]] = {}
        for board in members(split.moving):
            for other, joint in self.joints.get(board, ()):
                if split.staying >> other & 1:
                    found[joint.name] = (other, joint)
        yield from sorted(found.values(), key=lambda one: self.rank[one[1].name])

    def _stage(self, run: Sequence[Split]) -> Stage:
        boards = run[-1].moving | run[-1].staying
        return Stage(
            steps=tuple(self._step(split) for split in run),
            boards=self._named(boards),
            joined=self._closes(run[0]),
            assembly=self.declared.get(boards),
        )

    def _step(self, split: Split) -> Step:
        closed = tuple(self._closed(split))
        meets = sum(1 << board for board in dict.fromkeys(board for board, _ in closed))
        if not closed:
            for board in members(split.moving):
                meets |= self.touching.get(board, 0) & split.staying
        return Step(
            moving=self._named(split.moving),
            into=self._named(split.staying),
            direction=reverse(split.out),
            distance=self.reach.beside(split.moving, split.staying, split.out),
            way=self._way(split, closed, meets),
            meets=self._named(meets),
            joints=tuple(joint.name for _, joint in closed),
            assembly=self.declared.get(split.moving),
        )

    def _way(self, split: Split, closed: Sequence[tuple[int, Joint]], meets: int) -> Way:
        if not closed:
            return Way.AGAINST if meets else Way.FREE
        verbs = {joint.join.verb for _, joint in closed}
        enters = all(joint.second.name == self.names[still] for still, joint in closed)
        if verbs == {Verb.INTO} and enters:
            return Way.INTO
        if verbs == {Verb.ACROSS}:
            return Way.ACROSS
        return Way.TO if verbs == {Verb.TO} else Way.OVER

    def _named(self, boards: int) -> tuple[str, ...]:
        return tuple(self.names[board] for board in members(boards))


class Reach:
    """How far blanks reach along directions, sets of boards taken together as units."""

    def __init__(self, blanks: Floats, units: Sequence[int]) -> None:
        self._blanks = blanks
        self._units = [np.array([*members(unit)]) for unit in units]
        self._along: dict[Vector, tuple[Floats, Floats]] = {}

    def beside(self, moving: int, staying: int, out: Vector) -> float:
        """How far along the way out units that move are beside or behind some that stay, mm."""
        if out not in self._along:
            heights = self._blanks @ np.array(out)
            near = np.array([heights[boards].min() for boards in self._units])
            far = np.array([heights[boards].max() for boards in self._units])
            self._along[out] = near, far
        near, far = self._along[out]
        return max(0.0, float(far[self._chosen(staying)].max() - near[self._chosen(moving)].min()))

    def _chosen(self, units: int) -> Booleans:
        count = len(self._units)
        packed = np.frombuffer(units.to_bytes((count + 7) // 8, "little"), dtype=np.uint8)
        return np.unpackbits(packed, bitorder="little", count=count).astype(bool)
