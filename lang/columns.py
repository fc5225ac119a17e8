"""How does any text stand on a terminal: what is shown for each character, how wide is it?

A design's text may hold anything. Each character becomes a `Cell`, what is printed for it and how
many columns that takes, so that marks under it line up and nothing in it can move the cursor, hide
or reorder what stands beside it:

- control characters become their picture (`␀`, `␛`), format characters and lone surrogates their
  number (`<U+202E>`), tabs run to the next stop;
- East Asian wide characters take two columns, accents none; an accent with nothing to stand on, or
  one too many, is shown as its number;
- letters written right to left stay letters, but each run of them is isolated, so that they order
  themselves only among themselves.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

TAB_STOP = 4
"""Columns between tab stops."""

MOST_ACCENTS = 3
"""Accents a character may carry: the most that a language in use stacks; more is a prank."""

_ISOLATE, _END_ISOLATE = "\u2067", "\u2069"
_ESCAPED = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
_RIGHT_TO_LEFT = frozenset({"R", "AL"})


@dataclass(frozen=True, slots=True)
class Cell:
    """What is printed for one character and the columns it takes."""

    shown: str
    width: int
    direction: str = ""


def cells(text: str) -> tuple[Cell, ...]:
    """One cell a character of `text`, a piece of a line that begins at a tab stop."""
    return tuple(_cells(text))


def joined(row: Sequence[Cell]) -> str:
    """The cells as one text that keeps its columns, runs from right to left isolated."""
    out: list[str] = []
    index = 0
    while index < len(row):
        if row[index].direction in _RIGHT_TO_LEFT:
            end = _run_end(row, index)
            out += [_ISOLATE, *(cell.shown for cell in row[index:end]), _END_ISOLATE]
            index = end
        else:
            out.append(row[index].shown)
            index += 1
    return "".join(out)


def safe(text: str) -> str:
    """One line of text as it may be printed.

    >>> safe("left\\x1b[31m"), safe("a\\u202eb")
    ('left␛[31m', 'a<U+202E>b')
    """
    if text.isascii() and text.isprintable():
        return text
    return joined(cells(text))


def width(row: Sequence[Cell]) -> int:
    """The columns that the cells take together."""
    return sum(cell.width for cell in row)


def _cells(text: str) -> Iterator[Cell]:
    column, accents = 0, MOST_ACCENTS
    for char in text:
        if "\x20" <= char <= "\x7e":
            cell, accents = Cell(char, 1), 0
        elif char == "\t":
            wide = TAB_STOP - column % TAB_STOP
            cell, accents = Cell(" " * wide, wide), MOST_ACCENTS
        elif unicodedata.category(char) in _ESCAPED:
            cell, accents = _escape(char), MOST_ACCENTS
        elif _is_accent(char):
            cell = _escape(char) if accents >= MOST_ACCENTS else Cell(char, 0)
            accents += 1
        else:
            wide = 2 if unicodedata.east_asian_width(char) in "WF" else 1
            cell, accents = Cell(char, wide, unicodedata.bidirectional(char)), 0
        column += cell.width
        yield cell


def _is_accent(char: str) -> bool:
    """Takes no column of its own: combining marks, the joining vowels and finals of Hangul."""
    return unicodedata.category(char) in ("Mn", "Me") or "\u1160" <= char <= "\u11ff"


def _escape(char: str) -> Cell:
    code = ord(char)
    if code < 0x20:
        return Cell(chr(0x2400 + code), 1)
    if code == 0x7F:
        return Cell("\u2421", 1)
    shown = f"<U+{code:04X}>"
    return Cell(shown, len(shown))


def _run_end(row: Sequence[Cell], start: int) -> int:
    """Past the last right-to-left cell that only cells without a strong direction part from the
    one at `start`. Plain ASCII cells carry no direction of their own here: letters end the run."""
    end = start + 1
    for index in range(start + 1, len(row)):
        cell = row[index]
        if cell.direction in _RIGHT_TO_LEFT:
            end = index + 1
        elif cell.direction == "L" or (cell.shown.isascii() and cell.shown.isalpha()):
            break
    return end
