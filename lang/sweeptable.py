"""How is a sweep told: as a table of which variants pass and why others do not, and as JSON?

Neighbours that came out alike share a row, `rows 1..4`, and so do whole blocks of the family that
are alike: the table stays short and leaves nothing out. Both come in pieces, for a family of a
million is not to be held in memory as text.
"""

from __future__ import annotations

import json
import shlex
from collections.abc import Iterator
from itertools import islice
from typing import Any, Final

from .columns import safe
from .family import Axis, Listed
from .messages import sweeps
from .report import FORMAT
from .sweep import Kind, Swept, Tally

MOST_ROWS: Final = 60
MOST_REASONS: Final = 20
WIDEST: Final = 40
"""Characters of one cell."""


def as_table(swept: Swept, file: str) -> str:
    """The table, then each reason once with the first variant that has it, then a line in all."""
    words = [sweeps.NOT_TRIED, *(sweeps.outcome(tally.outcome) for tally in swept.tallies)]
    found = _rows(swept, swept.family.axes, 0, swept.family.size)
    rows = [(*labels, words[mark]) for labels, mark in islice(found, MOST_ROWS)]
    left = sum(1 for _ in found)
    lines = _in_columns([(*(axis.name for axis in swept.family.axes), ""), *rows])
    lines += [sweeps.rows_left_out(left)] if left else []
    reasons = [
        (tally, word)
        for tally, word in zip(swept.tallies, words[1:], strict=True)
        if tally.outcome.kind is not Kind.PASSES
    ]
    lines += [f"\n{_reason(swept, *each)}" for each in reasons[:MOST_REASONS]]
    if len(reasons) > MOST_REASONS:
        lines.append(f"\n{sweeps.reasons_left_out(len(reasons) - MOST_REASONS)}")
    seen = next((t for t, _ in reasons if t.outcome.kind is Kind.FINDINGS), None)
    lines += [f"\n{_closer(swept, seen, file)}"] if seen else []
    return "\n".join([*lines, "", f"{safe(file)}: {sweeps.total(swept)}"]) + "\n"


def _rows(
    swept: Swept, axes: tuple[Axis, ...], start: int, size: int
) -> Iterator[tuple[tuple[str, ...], int]]:
    """Labels and a mark for each run of variants that came out alike."""
    axis, further = axes[0], axes[1:]
    block = size // axis.size
    first = 0
    while first < axis.size:
        at = start + first * block
        alike = swept.marks[at : at + block]
        last = first
        while (
            last + 1 < axis.size
            and swept.marks[start + (last + 1) * block : start + (last + 2) * block] == alike
        ):
            last += 1
        label = _label(axis, first, last)
        if further:
            for labels, mark in _rows(swept, further, at, block):
                yield (label, *labels), mark
        else:
            yield (label,), swept.marks[at]
        first = last + 1


def _label(axis: Axis, first: int, last: int) -> str:
    """The values of a run: its ends, or a few listed ones each by itself."""
    if isinstance(axis, Listed) and last - first < 4:
        return _short(", ".join(axis.values[first : last + 1]))
    ends = [axis.value(first)] + ([axis.value(last)] if last > first else [])
    return _short((" to " if isinstance(axis, Listed) else "..").join(ends))


def _short(text: str) -> str:
    shown = safe(text)
    return shown if len(shown) <= WIDEST else f"{shown[: WIDEST - 1]}…"


def _in_columns(rows: list[tuple[str, ...]]) -> list[str]:
    """Rows under a head; what a row shares with the one above is left out but for its end."""
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]) - 1)]
    lines: list[str] = []
    above: tuple[str, ...] = ()
    for row in rows:
        shared = 0
        while shared < len(widths) - 1 and row[: shared + 1] == above[: shared + 1]:
            shared += 1
        cells = ["" if i < shared else row[i] for i in range(len(widths))]
        padded = [cell.ljust(width) for cell, width in zip(cells, widths, strict=True)]
        lines.append("  " + "  ".join([*padded, row[-1]]).rstrip())
        above = row
    return lines


def _reason(swept: Swept, tally: Tally, words: str) -> str:
    settings = swept.family.settings(tally.first)
    first = ", ".join(f"{name}={safe(value)}" for name, value in settings.items())
    return sweeps.reason(words, tally.count, first, safe(tally.outcome.said))


def _closer(swept: Swept, tally: Tally, file: str) -> str:
    settings = swept.family.settings(tally.first)
    sets = (f"--set {shlex.quote(f'{name}={value}')}" for name, value in settings.items())
    return sweeps.look_closer(safe(shlex.quote(file)), safe(" ".join(sets)))


def as_json(swept: Swept, file: str, version: str) -> Iterator[str]:
    """A `swept` of `findings.schema.json`, in pieces, ASCII only."""
    head = {
        "format": FORMAT,
        "version": version,
        "file": file,
        "varied": [{"name": axis.name, "values": axis.size} for axis in swept.family.axes],
        "interrupted": swept.interrupted,
        "outcomes": [_outcome(swept, tally) for tally in swept.tallies],
    }
    yield json.dumps(head, indent=2).removesuffix("\n}") + ',\n  "variants": ['
    for index, mark in enumerate(swept.marks):
        variant = {
            "settings": swept.family.settings(index),
            "outcome": mark - 1 if mark else None,
        }
        yield ("," if index else "") + "\n    " + json.dumps(variant)
    yield "\n  ]\n}\n"


def _outcome(swept: Swept, tally: Tally) -> dict[str, Any]:
    told = tally.outcome
    return {
        "kind": told.kind.value,
        "codes": [{"code": code, "times": times} for code, times in told.codes],
        "count": tally.count,
        "first": swept.family.settings(tally.first),
        "said": told.said,
    }
