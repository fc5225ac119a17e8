"""In what order do nodes come apart: graphs by hand, and random ones against trying every set."""

import random
from collections.abc import Iterable

from dryfit.kernel.blocking import Graph, members
from dryfit.kernel.order import Locked, Split, Taste, parted

X, Y, BACK = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0)


def test_two_and_two_part_where_no_single_one_moves() -> None:
    pairs = Graph(X, (0b0010, 0b0001, 0b1000, 0b0100))
    ring = Graph(Y, (0b0010, 0b0100, 0b1000, 0b0001))
    first, *rest = _splits((pairs, ring), 0b1111, Taste())
    assert (first.moving, first.staying, len(rest)) == (0b1100, 0b0011, 2)
    assert parted((pairs,), 0b1111) == Locked(0b0011)


def test_three_that_hold_each_other_are_locked() -> None:
    round_, back = Graph(X, (0b010, 0b100, 0b001)), Graph(Y, (0b100, 0b001, 0b010))
    assert parted((round_, back), 0b111) == Locked(0b111)


def test_a_captured_panel_waits_for_a_side() -> None:
    made = (Graph(X, (0b010, 0b100, 0b000)), Graph(Y, (0b110, 0b101, 0b011)))
    found = parted(made, 0b111, Taste(ties=((0, 1), (1, 2))))
    assert not isinstance(found, Locked)
    assert found[0] == Split(0b100, 0b011, X)


def test_a_set_held_by_nothing_goes_before_a_single_node_that_is_tied() -> None:
    free = Graph(X, (0b0010, 0b0001, 0, 0))
    found = parted((free,), 0b1111, Taste(ties=((0, 1), (2, 3))))
    assert found == Locked(0b0011)
    more = Graph(Y, (0, 0, 0, 0))
    found = parted((free, more), 0b1111, Taste(ties=((0, 1), (2, 3))))
    assert not isinstance(found, Locked)
    assert {found[0].moving, found[0].staying} == {0b0011, 0b1100}


def test_of_the_ways_out_the_one_that_is_clear_soonest_is_taken() -> None:
    both = (Graph(X, (0, 0)), Graph(Y, (0, 0)))
    near = {X: 300.0, Y: 12.0}
    found = parted(both, 0b11, Taste(travel=lambda moving, staying, out: near[out]))
    assert found == (Split(0b10, 0b01, Y),)


def test_the_lighter_of_two_moves() -> None:
    (split,) = _splits((Graph(X, (0, 0)),), 0b11, Taste(weights=(3.0, 9.0)))
    assert split == Split(0b01, 0b10, BACK)


def _splits(made: tuple[Graph, ...], among: int, taste: Taste) -> tuple[Split, ...]:
    found = parted(made, among, taste)
    assert not isinstance(found, Locked)
    return found


def leaves(graph: Graph, moving: int, staying: int) -> bool:
    return not any(graph.hits[node] & staying for node in members(moving))


def some_set_leaves(made: tuple[Graph, ...], whole: int) -> bool:
    """Every proper set tried."""
    sets = (s for s in range(1, whole) if not s & ~whole)
    return any(leaves(graph, s, whole & ~s) for s in sets for graph in made)


def test_random_graphs_come_apart_just_where_some_set_of_every_set_that_is_met_leaves() -> None:
    dice = random.Random(7)  # noqa: S311 - repeatable, not secret
    locked = 0
    for _ in range(400):
        n, share = dice.randint(2, 7), dice.choice((0.15, 0.3, 0.5))
        made = random_graphs(dice, n, share)
        found = parted(made, (1 << n) - 1)
        if isinstance(found, Locked):
            locked += 1
            assert not some_set_leaves(made, found.nodes)
            continue
        assert len(found) == n - 1
        wholes = {(1 << n) - 1}
        for split in found:
            wholes.remove(split.moving | split.staying)
            wholes |= {split.moving, split.staying}
            graph = next((g for g in made if g.direction == split.out), None)
            if graph is None:  # told from the other side
                back = next(g for g in made if g.direction == tuple(-c for c in split.out))
                assert leaves(back, split.staying, split.moving)
            else:
                assert leaves(graph, split.moving, split.staying)
        assert wholes == {1 << i for i in range(n)}
    assert 50 < locked < 350


def test_each_split_of_random_graphs_is_the_best_of_those_worked_out_anew() -> None:
    """What is carried over from split to split must not change which is chosen."""
    dice = random.Random(11)  # noqa: S311 - repeatable, not secret
    splits = 0
    for _ in range(300):
        n, share = dice.randint(4, 12), dice.choice((0.08, 0.15, 0.25))
        made = random_graphs(dice, n, share)
        ties = [(i, j) for i in range(n) for j in range(i) if dice.random() < 0.3]
        found = parted(made, (1 << n) - 1, Taste(ties=ties))
        for split in () if isinstance(found, Locked) else found:
            splits += 1
            best = best_way(made, split.moving | split.staying, ties)
            assert best in (split.moving, split.staying)
    assert splits > 500


def best_way(made: tuple[Graph, ...], whole: int, ties: list[tuple[int, int]]) -> int:
    """Of all closures the one that parts the fewest ties; ranks as `parted` tells them."""

    def rank(at: int, closure: int) -> tuple[int, ...]:
        count = closure.bit_count()
        parts = sum(
            (closure >> i & 1) != (closure >> j & 1)
            for i, j in ties
            if 1 << i & whole and 1 << j & whole
        )
        return parts, min(count, whole.bit_count() - count), count, at, -closure

    closures = (
        (at, closure(g, node, whole)) for at, g in enumerate(made) for node in members(whole)
    )
    return min((rank(at, c), c) for at, c in closures if c != whole)[1]


def closure(graph: Graph, node: int, whole: int) -> int:
    held = 1 << node
    while (more := held | whole & _all(graph.hits[i] for i in members(held))) != held:
        held = more
    return held


def _all(sets: Iterable[int]) -> int:
    together = 0
    for one in sets:
        together |= one
    return together


def random_graphs(dice: random.Random, n: int, share: float) -> tuple[Graph, ...]:
    """Along two directions, each arc there with the same chance."""
    return tuple(
        Graph(way, tuple(_random_set(dice, n, share) & ~(1 << i) for i in range(n)))
        for way in (X, Y)
    )


def _random_set(dice: random.Random, n: int, share: float) -> int:
    return sum(1 << j for j in range(n) if dice.random() < share)
