"""How fast and how large, as ratios side by side in one run.

    python tests/bench/run.py [--rounds 5] [--only a,b,c,d,e,f,g,h,i,v]

(a) a cold `check` of the seed cabinet against a bare script that does the same booleans
(b) growth of `check` from 10 to 1,000 boards
(c) `dryfit --version` against `python -c pass`
(d) parsing a 10,000-line design to our tree against lark's bare parse of it
(e) interference by our broad and narrow phase against intersecting all pairs
(f) a straight way of a part out of its mate against one intersection of the two (`ways.py`)
(g) planning the order of 500 boards against 10 (`plans.py`)
(h) a check after one edited line, with what was kept, against one from the start (`warm.py`)
(i) a sweep of 64 cabinets on two workers against one
(v) the page: first picture, a frame, an edit of the open cabinet (`page.py`; needs Chromium)

Times are medians of wall seconds; pairs of commands are run in turn, so that a drifting machine
slows both. Peak memory is that of each process, from the operating system.
"""

from __future__ import annotations

import argparse
import math
import os
import pickle
import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from designs import long_text, trays

ROOT = Path(__file__).resolve().parents[2]
HERE = Path(__file__).resolve().parent
CABINET = ROOT / "examples" / "seed-cabinet.dry"
DRYFIT = [str(Path(sys.executable).parent / "dryfit")]


@dataclass(frozen=True)
class Run:
    seconds: float
    megabytes: float


def timed(command: list[str]) -> Run:
    """One run of a command in a process of its own."""
    begun = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, cwd=tempfile.gettempdir())
    _, status, usage = os.wait4(process.pid, 0)
    took = time.perf_counter() - begun
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode not in (0, 1):
        raise SystemExit(f"{' '.join(command)} ended with {process.returncode}")
    return Run(took, usage.ru_maxrss / 1024)


def in_turn(rounds: int, *commands: list[str]) -> list[Run]:
    """The median run of each command, the commands run in turn after one warm-up each."""
    for command in commands:
        timed(command)
    runs = [[timed(command) for command in commands] for _ in range(rounds)]
    return [
        Run(
            statistics.median(r[i].seconds for r in runs),
            statistics.median(r[i].megabytes for r in runs),
        )
        for i in range(len(commands))
    ]


def row(name: str, ours: Run, other: Run, aim: str) -> None:
    print(
        f"{name:44} {ours.seconds:8.3f} s {ours.megabytes:6.0f} MB   "
        f"{other.seconds:8.3f} s {other.megabytes:6.0f} MB   "
        f"x{ours.seconds / other.seconds:6.2f}   {aim}"
    )


def plan_of(path: Path):  # type: ignore[no-untyped-def]
    from dryfit.kernel.plan import cut_plan
    from dryfit.lang import load

    return cut_plan(load(path).value).value


def recorded(path: Path, to: Path) -> None:
    """Write the operations of a plan's twins, ready made, for the floor to repeat."""
    from dryfit.kernel.board import Axis
    from dryfit.kernel.broad import board_pairs
    from dryfit.kernel.frames import pose_matrix
    from dryfit.kernel.planar import grown_polygons
    from dryfit.kernel.solids import depth_range
    from dryfit.kernel.thresholds import CHECK_CHORD, TWIN_INSET

    plan = plan_of(path)
    boards = []
    for board in plan.boards:
        lo = [float(board.board.box[a].lo) + TWIN_INSET for a in Axis]
        hi = [float(board.board.box[a].hi) - TWIN_INSET for a in Axis]
        outline = [(lo[0], lo[1]), (hi[0], lo[1]), (hi[0], hi[1]), (lo[0], hi[1])]
        tools = [
            (
                [loop.tolist() for loop in grown_polygons(cut.region, TWIN_INSET, CHECK_CHORD)],
                int(cut.side.axis),
                *depth_range(board.board, cut, TWIN_INSET),
            )
            for cut in board.cuts
        ]
        pose = pose_matrix(board.board.pose)[:3, :] if board.board.pose else None
        boards.append((([outline], 2, lo[2], hi[2]), tools, pose))
    pairs = list(board_pairs([b.board for b in plan.boards], 2 * TWIN_INSET))
    to.write_bytes(pickle.dumps((boards, pairs)))


def bench_check(folder: Path, rounds: int) -> None:
    operations = folder / "operations.pickle"
    recorded(CABINET, operations)
    ours, floor = in_turn(
        rounds,
        [*DRYFIT, "check", str(CABINET)],
        [sys.executable, str(HERE / "floor.py"), str(operations)],
    )
    row("(a) check, seed cabinet / bare booleans", ours, floor, "aim 1.5")


def bench_growth(folder: Path, rounds: int) -> None:
    sizes = (10, 100, 1000)
    runs = []
    for size in sizes:
        path = folder / f"trays{size}.dry"
        path.write_text(trays(size), "utf-8")
        runs.append(in_turn(max(1, rounds // 2), [*DRYFIT, "check", str(path)])[0])
    start = in_turn(rounds, [*DRYFIT, "check", str(_empty(folder))])[0].seconds
    for size, run in zip(sizes, runs, strict=True):
        print(f"(b) check, {size:5} boards {'':21} {run.seconds:8.3f} s {run.megabytes:6.0f} MB")
    work = [run.seconds - start for run in runs]
    for i in (0, 1):
        power = math.log(work[i + 1] / work[i]) / math.log(sizes[i + 1] / sizes[i])
        print(f"    exponent {sizes[i]} to {sizes[i + 1]}, start-up taken off: {power:.2f}")
    power = math.log(work[-1] / work[0]) / math.log(sizes[-1] / sizes[0])
    print(f"    exponent overall: {power:.2f}   aim 1.15")


def _empty(folder: Path) -> Path:
    path = folder / "one.dry"
    path.write_text(
        'design "One"\nstock s { thick 12mm }\nboard b of s x 0mm..12mm y 0mm..50mm z 0mm..90mm\n',
        "utf-8",
    )
    return path


def bench_version(_: Path, rounds: int) -> None:
    ours, bare = in_turn(rounds * 3, [*DRYFIT, "--version"], [sys.executable, "-c", "pass"])
    row("(c) dryfit --version / python -c pass", ours, bare, "")
    print(f"    {1000 * (ours.seconds - bare.seconds):.0f} ms more   aim 60")


PARSE_OURS = """
import sys, time
from dryfit.lang.parse import parse
from dryfit.lang.source import Source
text = open(sys.argv[1], encoding="utf-8").read()
parse(Source("a", 'let a = 1\\n'))
begun = time.perf_counter()
out = parse(Source("a", text))
print(time.perf_counter() - begun, len(out.findings))
"""

PARSE_BARE = """
import sys, time
from importlib.resources import files
from lark import Lark
grammar = files("dryfit.lang").joinpath("grammar.lark").read_text("utf-8")
text = open(sys.argv[1], encoding="utf-8").read()
parser = Lark(grammar, parser="lalr", start="program")
parser.parse("let a = 1\\n")
begun = time.perf_counter()
parser.parse(text)
print(time.perf_counter() - begun)
"""


def _inner(code: str, path: Path) -> float:
    """The seconds a script printed first: the parse alone, without imports."""
    done = subprocess.run(
        [sys.executable, "-c", code, str(path)],
        capture_output=True,
        text=True,
        check=True,
        cwd=tempfile.gettempdir(),
    )
    return float(done.stdout.split()[0])


def bench_parse(folder: Path, rounds: int) -> None:
    path = folder / "long.dry"
    path.write_text(long_text(10_000), "utf-8")
    both = [(_inner(PARSE_OURS, path), _inner(PARSE_BARE, path)) for _ in range(rounds)]
    ours = Run(statistics.median(b[0] for b in both), timed_memory(PARSE_OURS, path))
    bare = Run(statistics.median(b[1] for b in both), timed_memory(PARSE_BARE, path))
    row("(d) parse of 10,000 lines / lark's bare parse", ours, bare, "aim 2")


def timed_memory(code: str, path: Path) -> float:
    return timed([sys.executable, "-c", code, str(path)]).megabytes


INTERFERENCE = """
import sys, time
sys.path.insert(0, sys.argv[3])
from run import plan_of
from pathlib import Path
from dryfit.kernel.checks.interference import overlaps
from dryfit.kernel.solids import Bodies
plan = plan_of(Path(sys.argv[1]))
begun = time.perf_counter()
bodies = Bodies(plan)
if sys.argv[2] == "ours":
    overlaps(bodies)
else:
    n = len(plan.boards)
    solids = [bodies.true(i) for i in range(n)]
    for i in range(n):
        for j in range(i + 1, n):
            (solids[i] ^ solids[j]).volume()
print(time.perf_counter() - begun)
"""


def bench_interference(folder: Path, rounds: int) -> None:
    for size in (50, 200):
        path = folder / f"pairs{size}.dry"
        path.write_text(trays(size), "utf-8")
        figures = {}
        for way in ("ours", "all"):
            command = [sys.executable, "-c", INTERFERENCE, str(path), way, str(HERE)]
            seconds = [
                float(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
                for _ in range(max(1, rounds // 2))
            ]
            figures[way] = Run(statistics.median(seconds), timed(command).megabytes)
        row(f"(e) interference, {size} boards / all pairs", figures["ours"], figures["all"], "")


def bench_ways(_: Path, __: int) -> None:
    subprocess.run([sys.executable, str(HERE / "ways.py"), str(CABINET)], check=True)


def bench_plans(_: Path, rounds: int) -> None:
    command = [sys.executable, str(HERE / "plans.py"), str(max(1, rounds // 2))]
    subprocess.run(command, check=True)


def bench_warm(_: Path, __: int) -> None:
    subprocess.run([sys.executable, str(HERE / "warm.py"), str(CABINET)], check=True)


def bench_sweep(_: Path, rounds: int) -> None:
    family = ["--vary", "width=360mm..465mm/15mm", "--vary", "height=480mm..550mm/10mm"]
    command = [*DRYFIT, "check", str(CABINET), *family, "--workers"]
    runs = [[timed([*command, n]) for n in ("2", "1")] for _ in range(max(1, rounds // 3))]
    two, one = (
        Run(
            statistics.median(r[i].seconds for r in runs),
            statistics.median(r[i].megabytes for r in runs),
        )
        for i in (0, 1)
    )
    row("(i) 64 variants, two workers / one", two, one, "aim 0.6")


def bench_page(_: Path, rounds: int) -> None:
    subprocess.run([sys.executable, str(HERE / "page.py"), str(rounds)], check=True)


BENCHES = {
    "a": bench_check,
    "b": bench_growth,
    "c": bench_version,
    "d": bench_parse,
    "e": bench_interference,
    "f": bench_ways,
    "g": bench_plans,
    "h": bench_warm,
    "i": bench_sweep,
    "v": bench_page,
}


def main() -> None:
    parser = argparse.ArgumentParser(description="Ratios side by side in one run.")
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--only", default="a,b,c,d,e,f,g,h,i,v")
    options = parser.parse_args()
    print(f"{'':44} {'ours':>19}   {'other':>19}   ratio")
    with tempfile.TemporaryDirectory() as name:
        for letter in options.only.split(","):
            BENCHES[letter](Path(name), options.rounds)


if __name__ == "__main__":
    main()
