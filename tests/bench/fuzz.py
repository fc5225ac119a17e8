"""Does any text make the tool raise? Run mutated programs through every stage up to the cuts.

    python tests/bench/fuzz.py --count 200000

The programs are the examples, the explain pages' programs and the corpus; each is mutated by
deleting, doubling, swapping and inserting pieces of text. A run that raises is printed with its
seed and its text, smallest first, and the exit code is 1. The same seed gives the same programs.
"""

from __future__ import annotations

import argparse
import multiprocessing
import random
import re
import sys
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PIECES = re.compile(r"\s+|[A-Za-z_]+|\d+|.", re.DOTALL)
SPICE = [
    "{",
    "}",
    "(",
    ")",
    "[",
    "]",
    ",",
    "..",
    ".",
    "+",
    "-",
    "*",
    "/",
    "=",
    "==",
    "<",
    '"',
    "#",
    "@",
    "\n",
    "\t",
    "mm",
    "in",
    "deg",
    "0mm",
    "-1mm",
    "1e9",
    "999999999999mm",
    "1/0in",
    "board",
    "join",
    "of",
    "to",
    "into",
    "with",
    "x",
    "y",
    "z",
    "a..b",
    "for",
    "if",
    "else",
    "test",
    "expect",
    "nan",
    "inf",
    "\u202e",
    "\x00",
    "\ufeff",
    "é",
    "🪵",
]


def programs() -> tuple[str, ...]:
    """Every program the project ships, short ones weighing as much as long ones."""
    found = [p.read_text("utf-8") for p in sorted(ROOT.glob("examples/**/*.dry"))]
    found += [p.read_text("utf-8") for p in sorted(ROOT.glob("tests/**/*.dry"))]
    for page in sorted(ROOT.glob("lang/explain/*.md")):
        found += re.findall(r"```dry[^\n]*\n(.*?)```", page.read_text("utf-8"), re.DOTALL)
    return tuple(found)


def mutated(text: str, dice: random.Random) -> str:
    """The text with one to six small changes."""
    pieces = PIECES.findall(text)
    for _ in range(dice.randint(1, 6)):
        at = dice.randrange(len(pieces) + 1)
        run = dice.choice((1, 1, 1, 2, 5, 20))
        match dice.randrange(5):
            case 0:
                del pieces[at : at + run]
            case 1:
                pieces[at:at] = pieces[at : at + run]
            case 2:
                pieces.insert(at, dice.choice(SPICE))
            case 3 if pieces:
                other = dice.randrange(len(pieces))
                pieces[at : at + 1] = [pieces[other]]
            case _ if at < len(pieces) and pieces[at].isdigit():
                pieces[at] = dice.choice(("0", "1", "99999", "7", pieces[at] * 3))
    return "".join(pieces)


def outcome(text: str) -> str:
    """How far the text came: the letters of its findings, or `clean`."""
    from dryfit.kernel.plan import cut_plan
    from dryfit.lang.files import MemoryFiles
    from dryfit.lang.limits import Limits
    from dryfit.lang.messages import words
    from dryfit.lang.pipeline import design_from

    limits = Limits(boards=300, loop_rounds=300)
    read = design_from("fuzz.dry", MemoryFiles({"fuzz.dry": text}), limits=limits)
    findings = read.findings
    if read.value is not None and not findings:
        findings = cut_plan(read.value).findings
    for finding in findings:
        words(finding)
    return "".join(sorted({f.code[0] for f in findings})) or "clean"


def batch(task: tuple[int, int]) -> tuple[Counter[str], list[tuple[int, str, str]]]:
    """Run `count` programs from `seed`; tallies and what raised."""
    seed, count = task
    tally: Counter[str] = Counter()
    raised = []
    sources = programs()
    for number in range(seed, seed + count):
        dice = random.Random(number)  # noqa: S311 - repeatable, not secret
        text = mutated(dice.choice(sources), dice)
        try:
            tally[outcome(text)] += 1
        except Exception:
            raised.append((number, text, traceback.format_exc(limit=-4)))
    return tally, raised


def tasks(count: int, first: int, size: int = 500) -> Iterator[tuple[int, int]]:
    for start in range(first, first + count, size):
        yield start, min(size, first + count - start)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--count", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--workers", type=int, default=multiprocessing.cpu_count())
    options = parser.parse_args()
    tally: Counter[str] = Counter()
    raised: list[tuple[int, str, str]] = []
    begun = time.perf_counter()
    with multiprocessing.Pool(options.workers) as pool:
        for done, bad in pool.imap(batch, tasks(options.count, options.seed)):
            tally += done
            raised += bad
    for seed, text, trace in sorted(raised, key=lambda r: len(r[1]))[:5]:
        print(f"--- seed {seed}\n{text}\n{trace}")
    for letters, number in tally.most_common(12):
        print(f"{number:8}  {letters}")
    took = time.perf_counter() - begun
    print(f"{options.count} programs in {took:.0f} s, {len(raised)} raised")
    return 1 if raised else 0


if __name__ == "__main__":
    sys.exit(main())
