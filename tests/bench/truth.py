"""Does the kernel ever call a way free that brute force finds blocked? Count over many pairs.

    python tests/bench/truth.py --pairs 3000

Pairs are drawn under every family of joints and held in each other on purpose (`tests/truth.py`).
On each of a dozen directions a part is put into many places along its way, and a collision library
says whether the meshes meet there. Printed are the counts and every disagreement; the exit code is
1 when a way told free was refuted, or a contact told came later than one that was met. After that
whole pieces of three to six boards, a fifth as many as pairs, are taken apart by trying every set
of boards along every axis, and held against the lock and the steps told (`tests/piece_truth.py`).
The same seed gives the same pairs and pieces, whatever the number of workers.
"""

from __future__ import annotations

import argparse
import functools
import multiprocessing
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from dryfit.kernel.joints import families
from piece_truth import PieceTally, compared_piece
from truth import Tally, compared, compared_turning


def show(title: str, tally: Tally, seconds: float) -> None:
    kinds = ", ".join(f"{kind} {count}" for kind, count in sorted(tally.pairs.items()))
    print(f"{title}: {sum(tally.pairs.values())} pairs in {seconds:.0f} s ({kinds})")
    print(f"  {tally.directions} ways, {tally.free} told free, {tally.locked} pairs with none free")
    for what, found in (
        ("told free and refuted", tally.refuted),
        ("contact told too late", tally.late),
        ("told blocked and met nowhere", tally.unconfirmed),
    ):
        print(f"  {what}: {len(found)}")
        for line in found[:20]:
            print(f"    {line}")


def show_pieces(tally: PieceTally, seconds: float) -> None:
    kinds = ", ".join(f"{kind} {count}" for kind, count in sorted(tally.pieces.items()))
    print(f"apart: {sum(tally.pieces.values())} pieces in {seconds:.0f} s ({kinds})")
    print(f"  {tally.apart} told to come apart in {tally.steps} steps, {tally.locked} locked")
    print(f"  {tally.sets} sets along directions, {tally.freed} told free")
    for what, found in (("told to go and refuted", tally.refuted), ("refused", tally.refused)):
        print(f"  {what}: {len(found)}")
        for line in found[:20]:
            print(f"    {line}")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--pairs", type=int, default=300)
    parser.add_argument("--samples", type=int, default=120)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--workers", type=int, default=multiprocessing.cpu_count())
    options = parser.parse_args()
    wrong = 0
    with multiprocessing.Pool(options.workers) as pool:
        for title, compare in (("straight", compared), ("turning", compared_turning)):
            begun = time.perf_counter()
            tally = Tally()
            work = functools.partial(compare, samples=options.samples)
            for one in pool.imap(work, range(options.seed, options.seed + options.pairs), 10):
                tally.add(one)
            show(title, tally, time.perf_counter() - begun)
            missing = [f.name for f in families() if f.name not in tally.pairs]
            if missing:
                print(f"  families not met: {', '.join(missing)}")
            wrong += len(tally.refuted) + len(tally.late)
        begun, pieces = time.perf_counter(), PieceTally()
        work = functools.partial(compared_piece, samples=options.samples)
        for piece in pool.imap(work, range(options.seed, options.seed + options.pairs // 5), 5):
            pieces.add(piece)
        show_pieces(pieces, time.perf_counter() - begun)
        wrong += len(pieces.refuted)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
