"""What does a check cost after one line was edited, against a check from the start?

    python tests/bench/warm.py [FILE]

Each line of the design with a length in it is edited alone (its first length made 0.01 mm longer)
and checked with what was kept of the design as it was; then the same text is checked in the same
process without anything kept, and once in a process of its own. Edits that are errors in the text
are left out. Printed are medians and the dearest in ms.
"""

from __future__ import annotations

import re
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from dryfit.kernel.kept import Kept
from dryfit.lang.files import DiskFiles
from dryfit.lang.inspection import Inspection, Request, has_language_errors, inspected

CABINET = Path(__file__).resolve().parents[2] / "examples" / "seed-cabinet.dry"
LENGTH = re.compile(r"\b(\d+(?:\.\d+)?)mm\b")


def edits(text: str) -> Iterator[str]:
    lines = text.splitlines(keepends=True)
    for i, line in enumerate(lines):
        edited = LENGTH.sub(lambda m: f"{float(m[1]) + 0.01:.2f}mm", line, count=1)
        if edited != line and not line.lstrip().startswith("#"):
            yield "".join((*lines[:i], edited, *lines[i + 1 :]))


def checked(path: Path, text: str, kept: Kept | None) -> tuple[float, Inspection]:
    path.write_text(text, "utf-8")
    begun = time.perf_counter()
    found = inspected(Request(file=str(path)), DiskFiles(), kept=kept)
    return 1000 * (time.perf_counter() - begun), found


def show(file: Path) -> None:
    text = file.read_text("utf-8")
    warm, same, fresh = [], [], []
    with tempfile.TemporaryDirectory() as folder:
        path, kept = Path(folder) / file.name, Kept()
        for edited in edits(text):
            checked(path, text, kept)
            same.append(checked(path, text, kept)[0])
            took, found = checked(path, edited, kept)
            cold, again = checked(path, edited, None)
            if found.findings != again.findings:
                raise SystemExit("what was kept changed what was found")
            if not has_language_errors(found.findings):
                warm.append(took)
                fresh.append(cold)
        path.write_text(text, "utf-8")
        begun = time.perf_counter()
        command = [str(Path(sys.executable).parent / "dryfit"), "check", str(path)]
        subprocess.run(command, stdout=subprocess.DEVNULL, check=False)
        alone = 1000 * (time.perf_counter() - begun)
    shares = sorted(w / f for w, f in zip(warm, fresh, strict=True))
    print(
        f"(h) {file.name}: {len(warm)} edits of a line, median {statistics.median(warm):.0f} ms, "
        f"dearest {max(warm):.0f} ms; nothing edited {statistics.median(same):.0f} ms; "
        f"from the start {statistics.median(fresh):.0f} ms, as a command {alone:.0f} ms"
    )
    print(
        f"    warm / from the start: median x{statistics.median(shares):.2f}, dearest "
        f"x{shares[-1]:.2f}; median warm / command x{statistics.median(warm) / alone:.2f}   aim 0.1"
    )


if __name__ == "__main__":
    show(Path(sys.argv[1]) if len(sys.argv) > 1 else CABINET)
