"""How does the time to plan the order of a piece grow with its boards?

    python tests/bench/plans.py [ROUNDS]

Twins are made beforehand: planning alone is timed, in seconds, medians over the rounds. `trays` are
assemblies of five boards alike; `rack` is one piece without assemblies, no two of its bays alike.
`apart?` is what every check asks: whether the piece comes apart at all.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from designs import rack, trays
from dryfit.kernel.assembly import assembly
from dryfit.kernel.locked import lock_of
from dryfit.kernel.plan import CutPlan, cut_plan
from dryfit.kernel.solids import Bodies
from dryfit.kernel.steps import Assembly
from dryfit.lang import load

SIZES = (10, 50, 200, 500)


def plan_of(text: str, folder: Path) -> CutPlan:
    path = folder / "piece.dry"
    path.write_text(text, "utf-8")
    design = load(path).value
    assert design is not None
    plan = cut_plan(design).value
    assert plan is not None
    return plan


def seconds(plan: CutPlan, work: Callable[[Bodies], object], rounds: int) -> float:
    taken = []
    for _ in range(rounds):
        bodies = Bodies(plan)
        for i in range(len(plan.boards)):
            bodies.twin(i)
        begun = time.perf_counter()
        work(bodies)
        taken.append(time.perf_counter() - begun)
    return statistics.median(taken)


def show(rounds: int) -> None:
    with tempfile.TemporaryDirectory() as name:
        for kind in (trays, rack):
            plans = [plan_of(kind(size), Path(name)) for size in SIZES]
            assert all(isinstance(assembly(Bodies(plan)), Assembly) for plan in plans[:1])
            for question, work in (("order", assembly), ("apart?", lock_of)):
                times = [seconds(plan, work, rounds) for plan in plans]
                told = ", ".join(f"{n}: {t:.3f} s" for n, t in zip(SIZES, times, strict=True))
                print(
                    f"(g) {question:6} {kind.__name__:5} {told}; "
                    f"500 / 10 boards x{times[-1] / times[0]:.0f}   aim 100"
                )


if __name__ == "__main__":
    show(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
