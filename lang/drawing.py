"""How is a piece of source drawn with its marks, or mended?

In come a text's lines and the places to mark in it; out come `Row`s, a gutter and pieces beside
it. Nothing here knows codes or chooses words. Marks of one line share one row; the one that ends
last has its label beside it, the others below, each under its own mark, bars leading down:

     7 | join shelf into left with dado
       |      ^^^^^      ---- its nearest face is at x = 12mm
       |      shelf begins at x = 12mm

A line too long to show is clipped round the marks, more than once where they stand far apart.
"""

from __future__ import annotations

from dataclasses import dataclass
from textwrap import wrap

from ..kernel.finding import Place
from .columns import Cell, cells, joined, safe, width
from .lines import Lines
from .messages.words import Edit
from .paint import Ink, Piece

WIDEST = 100
"""Columns of source text shown at most."""

LEAD = 20
"""Columns kept before the first mark where a line is clipped on the left."""

LEAST_LABEL = 40
"""Columns a label below its mark may always have, however far right the mark stands."""

WHOLE = 4
"""A marked place of at most so many lines is shown whole, a longer one by its ends."""

MOST_MENDED = 8
"""Lines of a mended piece shown at most."""


@dataclass(frozen=True, slots=True)
class Row:
    """One printed row: what stands left of the bar, the bar, what stands right of it."""

    gutter: str
    pieces: tuple[Piece, ...] = ()
    bar: str = "|"


@dataclass(frozen=True, slots=True)
class Mark:
    """A place to underline: `sign` is repeated under its characters."""

    place: Place
    label: str
    sign: str
    ink: Ink


@dataclass(frozen=True, slots=True)
class _LineMark:
    """The part of a mark on one line, character offsets in that line."""

    start: int
    end: int
    label: str
    sign: str
    ink: Ink


@dataclass(frozen=True, slots=True)
class _View:
    """The part of a line shown: cells of characters `begin..begin+len(cells)`."""

    begin: int
    cells: tuple[Cell, ...]
    clipped_left: bool
    clipped_right: bool

    def column(self, index: int) -> int:
        """The column, from 0, at which character `index` of the line begins."""
        inside = max(0, min(index - self.begin, len(self.cells)))
        return self.clipped_left + width(self.cells[:inside])

    @property
    def text(self) -> str:
        return "…" * self.clipped_left + joined(self.cells) + "…" * self.clipped_right


def snippet(lines: Lines, marks: tuple[Mark, ...]) -> tuple[Row, ...]:
    """The marked lines in order, gaps shown by `…`, each with its marks below it."""
    by_line: dict[int, list[_LineMark]] = {}
    for mark in marks:
        for number, part in _line_marks(lines, mark):
            by_line.setdefault(number, []).append(part)
    rows: list[Row] = []
    before: int | None = None
    for number in sorted(by_line):
        if before is not None and number == before + 2:
            rows += _line_rows(lines.line(before + 1), before + 1, [])
        elif before is not None and number > before + 2:
            rows.append(Row("…"))
        rows += _line_rows(lines.line(number), number, by_line[number])
        before = number
    return tuple(rows)


def mended(lines: Lines, edit: Edit) -> tuple[Row, ...]:
    """The lines that an edit touches as they read afterwards; lines it removes, struck out with
    `-` for a bar."""
    start = max(0, min(edit.place.start, len(lines.text)))
    end = max(start, min(edit.place.end, len(lines.text)))
    first, last = lines.position(start).line, lines.position(end).line
    head = lines.text[lines.starts[first - 1] : start]
    tail = lines.text[end : max(end, lines.ends[last - 1])]
    text = edit.text
    at_line_start = end == lines.starts[last - 1]
    if not head and at_line_start and (text.endswith("\n") or (not text and end > start)):
        text, tail, last = text.removesuffix("\n"), "", max(first, last - 1)
    if text.startswith("\n") and not tail.strip() and start == end:
        text, head, first = text[1:], "", first + 1
    if not (head + text + tail).strip():
        return _struck(lines, first, last)
    new = (head + text + tail).split("\n")
    rows: list[Row] = []
    for index, line in enumerate(new[:MOST_MENDED]):
        at = len(head) if index == 0 else 0
        stop = len(line) - len(tail) if index == len(new) - 1 else len(line)
        rows.append(Row(str(first + index), _changed(line.rstrip("\r"), at, stop)))
    return (*rows, Row("…")) if len(new) > MOST_MENDED else tuple(rows)


def _struck(lines: Lines, first: int, last: int) -> tuple[Row, ...]:
    """The lines `first..last` that hold something, as removed."""
    numbers = [n for n in range(first, last + 1) if lines.line(n).strip()]
    rows = [
        Row(str(n), ((_view(lines.line(n), 0, 0).text, Ink.ERROR),), bar="-")
        for n in numbers[:MOST_MENDED]
    ]
    return (*rows, Row("…")) if len(numbers) > MOST_MENDED else tuple(rows)


def _changed(line: str, start: int, stop: int) -> tuple[Piece, ...]:
    """The line in three pieces, what is new in the middle."""
    view = _view(line, start, max(start, stop))
    cut = max(0, min(start - view.begin, len(view.cells)))
    back = max(cut, min(stop - view.begin, len(view.cells)))
    return (
        ("…" * view.clipped_left + joined(view.cells[:cut]), Ink.PLAIN),
        (joined(view.cells[cut:back]), Ink.HELP),
        (joined(view.cells[back:]) + "…" * view.clipped_right, Ink.PLAIN),
    )


def _line_marks(lines: Lines, mark: Mark) -> list[tuple[int, _LineMark]]:
    """The mark line by line; its label goes with the last line."""
    start = max(0, min(mark.place.start, len(lines.text)))
    end = max(start, min(mark.place.end, len(lines.text)))
    first, last = lines.position(start).line, lines.position(end).line
    while last > first and not lines.text[lines.starts[last - 1] : end].strip():
        last -= 1
        end = min(end, lines.ends[last - 1])
    numbers = list(range(first, last + 1)) if last - first < WHOLE else [first, last]
    found = []
    for number in numbers:
        line = lines.line(number)
        begin = lines.starts[number - 1]
        at = start - begin if number == first else len(line) - len(line.lstrip())
        to = end - begin if number == last else len(line.rstrip())
        if number in (first, last) or line.strip():
            label = mark.label if number == last else ""
            found.append((number, _LineMark(at, max(at, to), label, mark.sign, mark.ink)))
    return found


def _line_rows(line: str, number: int, marks: list[_LineMark]) -> list[Row]:
    """A line, clipped where it must be, and its marks; once for each group of marks that fits."""
    rows = []
    for group in _groups(marks) or [[]]:
        first = min((mark.start for mark in group), default=0)
        last = max((mark.end for mark in group), default=0)
        view = _view(line, first, last)
        rows.append(Row(str(number), ((view.text, Ink.PLAIN),)))
        rows += _mark_rows(view, group)
    return rows


def _groups(marks: list[_LineMark]) -> list[list[_LineMark]]:
    """The marks from left to right, parted where they would not fit one clipped line."""
    groups: list[list[_LineMark]] = []
    for mark in sorted(marks, key=lambda m: m.start):
        if groups and mark.start - groups[-1][0].start < WIDEST - LEAD - 10:
            groups[-1].append(mark)
        else:
            groups.append([mark])
    return groups


def _view(line: str, first: int, last: int) -> _View:
    """The part of a line to show when characters `first..last` matter."""
    low, high = max(0, first - WIDEST), min(len(line), first + 2 * WIDEST)
    row = cells(line[low:high])
    if high == len(line) and low == 0 and width(row) <= WIDEST:
        return _View(0, row, False, False)
    begin, stop = low, min(last, high)
    if low > 0 or width(row[: stop - low]) >= WIDEST:
        begin = first
        while begin > low and width(row[begin - 1 - low : first - low]) <= LEAD:
            begin -= 1
    end, total = begin, 0
    while end < high and total + row[end - low].width <= WIDEST - 2:
        total += row[end - low].width
        end += 1
    return _View(begin, row[begin - low : end - low], begin > 0, end < len(line))


def _mark_rows(view: _View, marks: list[_LineMark]) -> list[Row]:
    """The row of signs with the last mark's label, then a row for each label left."""
    if not marks:
        return []
    spans = [(view.column(m.start), view.column(m.end), m) for m in marks]
    spans = [(a, max(a + 1, b), m) for a, b, m in spans]
    signs: list[Piece] = []
    for a, b, mark in sorted(spans, key=lambda s: (s[0] - s[1], s[2].sign == "^")):
        signs += [(" ", Ink.PLAIN)] * (b - len(signs))
        signs[a:b] = [(mark.sign, mark.ink)] * (b - a)
    for a, _, mark in spans:  # however much lies over it, the finding's own place shows
        if mark.sign == "^":
            signs[a] = (mark.sign, mark.ink)
    labelled = [span for span in spans if span[2].label]
    beside = max(spans, key=lambda s: (s[1], s[0], s[2].label != ""))
    tail: tuple[Piece, ...] = ()
    if beside[2].label and beside[1] + len(beside[2].label) < WIDEST:
        labelled.remove(beside)
        tail = ((f" {_one_line(beside[2].label)}", beside[2].ink),)
    rows = [Row("", (*_merged(signs), *tail))]
    labelled.sort(key=lambda s: s[0])
    while labelled:
        column, _, mark = labelled.pop()
        lead = _merged(_bars(labelled, column))
        rows += [Row("", (*lead, (line, mark.ink))) for line in _folded(mark.label, column)]
    return rows


def _folded(label: str, column: int) -> list[str]:
    """The label in lines that end at the widest column where they can."""
    return wrap(
        _one_line(label), max(LEAST_LABEL, WIDEST - column), break_long_words=False,
        break_on_hyphens=False,
    )  # fmt: skip


def _bars(waiting: list[tuple[int, int, _LineMark]], column: int) -> list[Piece]:
    """Blanks up to `column` with a bar under each mark whose label still waits."""
    lead: list[Piece] = [(" ", Ink.PLAIN)] * column
    for at, _, mark in waiting:
        if at < column:
            lead[at] = ("|", mark.ink)
    return lead


def _one_line(label: str) -> str:
    return safe(" ".join(label.split("\n")))


def _merged(pieces: list[Piece]) -> tuple[Piece, ...]:
    """The same pieces, neighbours of one ink as one."""
    merged: list[Piece] = []
    for text, ink in pieces:
        if merged and merged[-1][1] is ink:
            merged[-1] = (merged[-1][0] + text, ink)
        else:
            merged.append((text, ink))
    return tuple(merged)
