"""Which words begin a statement, and which go on with one? The kinds of tokens by their part.

A kind is the name of a terminal of `grammar.lark`, as `tokens.py` gives it.
"""

from __future__ import annotations

import re
from typing import Final

from .tokens import KEYWORDS

BLOCKS: Final = frozenset({"FOR", "IF", "ASSEMBLY", "TEST"})
"""Statements whose braces hold statements."""

LISTS: Final = frozenset({"STOCK", "BIT", "MACHINE", "JOIN", "CUT"})
"""Statements whose braces hold properties."""

STARTS: Final = (
    BLOCKS
    | LISTS
    | {"DESIGN", "USE", "PARAM", "LET", "FN", "BOARD", "PLACE", "TRAVEL", "SWING", "EXPECT"}
)
"""Kinds of the words that begin a statement."""

START_WORDS: Final = tuple(sorted(kind.lower() for kind in STARTS))

_CLAUSES: Final = frozenset(
    {"ABOUT", "ACROSS", "ALONG", "AND", "AS", "AT", "FROM", "GRAIN", "IN", "INTO", "OF", "OR"}
    | {
        "THEN",
        "TO",
        "TURNED",
        "WITH",
        "WITHIN",
        "COMMA",
        "COLON",
        "EQUAL",
        "DOT",
        "DOTS",
        "PLUS",
        "MINUS",
    }
    | {"STAR", "SLASH", "COMPARE"}
)

GOES_ON: Final = _CLAUSES | {"ELSE", "LBRACE", "RPAR", "RSQB"}
"""A line that begins with one of these goes on with the statement before it."""

HANGS: Final = _CLAUSES | {"NOT"}
"""A line that ends with one of these goes on with the next."""

WORDS: Final = frozenset(KEYWORDS.values())
NEXT_START: Final = re.compile(rf"[\r\n][^\S\r\n]*(?:(?:{'|'.join(START_WORDS)})(?!\w)|\}})")
"""A line that begins a statement or ends a block."""

END_OF_LINE: Final = re.compile(r"[^\S\r\n]*(?:[#\r\n}]|else(?!\w)|\Z)")

PLAIN: Final = _CLAUSES - set(KEYWORDS.values()) | {"NAME", "NUMBER", "TEXT"}
"""What merely goes on with a statement when it stands inside a line."""
