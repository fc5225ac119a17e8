"""On which line and in which column of a text does an offset stand?

A line ends at `\\n`, `\\r\\n` or a lone `\\r`. Lines and columns count from 1, columns in
characters, as editors show them.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass

_LINE_END = re.compile(r"\r\n|\n|\r")


@dataclass(frozen=True, slots=True)
class Position:
    line: int
    column: int


@dataclass(frozen=True, slots=True)
class Lines:
    """A text and where its lines start and end (without their line ends)."""

    text: str
    starts: tuple[int, ...]
    ends: tuple[int, ...]

    def position(self, offset: int) -> Position:
        """Where `offset` stands; one past the text stands at its end."""
        offset = max(0, min(offset, len(self.text)))
        line = bisect_right(self.starts, offset)
        return Position(line, offset - self.starts[line - 1] + 1)

    def line(self, number: int) -> str:
        """The text of a line, without its line end."""
        return self.text[self.starts[number - 1] : self.ends[number - 1]]


def lines_of(text: str) -> Lines:
    """The lines of a text; the empty text has one, empty."""
    breaks = [match.span() for match in _LINE_END.finditer(text)]
    return Lines(text, (0, *(end for _, end in breaks)), (*(at for at, _ in breaks), len(text)))
