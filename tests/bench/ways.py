"""What does a straight way cost, against one solid intersection of the same two boards?

    python tests/bench/ways.py [FILE]

For every pair under a join: telling along one axis, once for each of the six, whether the part
leaves (the views of both boards made anew); the first contact along an axis where it does not; and
finding a way out, boards alike counted once. Printed are medians and the dearest over the pairs, as
multiples of `a ^ b` on the true bodies, and sums of all pairs in ms.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

from dryfit.kernel.directions import axes_of
from dryfit.kernel.insertion import Insertions, joined_pairs
from dryfit.kernel.plan import cut_plan
from dryfit.kernel.shadows import sight, view
from dryfit.kernel.sliding import first_contact, leaves
from dryfit.kernel.solids import Bodies
from dryfit.lang import load

CABINET = Path(__file__).resolve().parents[2] / "examples" / "seed-cabinet.dry"


def seconds(work: Callable[[], object], rounds: int = 5) -> float:
    taken = []
    for _ in range(rounds):
        begun = time.perf_counter()
        work()
        taken.append(time.perf_counter() - begun)
    return statistics.median(taken)


def measured(path: Path) -> tuple[int, dict[str, list[tuple[float, float]]]]:
    """By question: (seconds, seconds of one intersection) of each pair and axis."""
    design = load(path).value
    assert design is not None
    plan = cut_plan(design).value
    assert plan is not None
    bodies = Bodies(plan)
    found: dict[str, list[tuple[float, float]]] = {
        "leaves?": [],
        "first contact": [],
        "way out": [],
    }
    pairs = list(joined_pairs(bodies))
    for part, mate, _ in pairs:
        solids = bodies.true(part), bodies.true(mate)
        cut = seconds(lambda a=solids[0], b=solids[1]: (a ^ b).volume())  # type: ignore[misc]
        one, other = bodies.faces(part), bodies.faces(mate)
        for axis in axes_of(plan.boards[part].board.pose):
            frame = sight(axis)
            asked = seconds(lambda f=frame: leaves(view(one, f), view(other, f)))  # type: ignore[misc]  # noqa: B023
            found["leaves?"].append((asked, cut))
            views = view(one, frame), view(other, frame)
            if not leaves(*views):
                met = seconds(lambda v=views: first_contact(*v))  # type: ignore[misc]
                found["first contact"].append((met, cut))
        way = seconds(lambda: Insertions(bodies).leaves(part, mate))  # noqa: B023
        found["way out"].append((way, cut))
    return len(pairs), found


def show(path: Path) -> None:
    pairs, found = measured(path)
    for question, figures in found.items():
        shares = sorted(asked / cut for asked, cut in figures)
        total, cuts = (1000 * sum(part) for part in zip(*figures, strict=True))
        print(
            f"(f) {question:14} {path.name}: {pairs} pairs, "
            f"median x{statistics.median(shares):.2f}, "
            f"nine in ten below x{shares[len(shares) * 9 // 10]:.2f}, all {total:.0f} ms "
            f"against {cuts:.0f} ms: x{total / cuts:.2f}   aim 3"
        )


if __name__ == "__main__":
    show(Path(sys.argv[1]) if len(sys.argv) > 1 else CABINET)
