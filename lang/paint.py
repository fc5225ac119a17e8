"""Which parts of what is printed stand out on a terminal? The only escape codes there are."""

from __future__ import annotations

from enum import Enum
from typing import TypeAlias


class Ink(Enum):
    """A way of printing; the value is the terminal's attribute numbers."""

    PLAIN = ""
    STRONG = "1"
    ERROR = "1;31"
    WARNING = "1;33"
    GUTTER = "34"
    SECOND = "36"
    HELP = "1;32"


Piece: TypeAlias = tuple[str, Ink]


def painted(pieces: tuple[Piece, ...], colour: bool) -> str:
    """The pieces as one text, with escape codes when `colour` is wanted."""
    if not colour:
        return "".join(text for text, _ in pieces)
    return "".join(
        text if ink is Ink.PLAIN or not text else f"\x1b[{ink.value}m{text}\x1b[0m"
        for text, ink in pieces
    )
