"""How much may a text ask for? Every bound in one record, so that none hides in the code.

The defaults leave room for far more than a piece of furniture needs, and keep the work for any
input, however hostile, to a few seconds. Another record may be handed to any stage.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

STACK_DEPTH: Final = 150
"""No `nesting` above this is honoured: the stages that walk a tree call themselves once or a few
times a level, and Python's own stack ends at 1,000 calls."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """The bounds of one run. All are counts of at least 1."""

    file_size: int = 2_000_000
    """Bytes of one file; a design of 10,000 lines takes less than half of it."""
    statements: int = 20_000
    """Statements and comments of one file, those inside blocks counted too."""
    statement_words: int = 10_000
    """Words, numbers and signs of one statement."""
    nesting: int = 100
    """Blocks in blocks, brackets in brackets, and operators under operators of one expression."""
    number_digits: int = 40
    """Digits of one written number."""
    mistakes: int = 200
    """Mistakes in the writing of one file; with the last of them the reading ends."""
    magnitude: int = 10**9
    """No value may be larger, in its base unit; a thousand kilometres are no furniture."""
    exact_digits: int = 200
    """Digits below the stroke of an exact fraction; those of a design have a dozen."""
    use_depth: int = 16
    """Files that use files that use files."""
    used_files: int = 200
    """Files that one design may use in all."""
    call_depth: int = 40
    """Functions that call functions, assemblies that place assemblies."""
    loop_rounds: int = 10_000
    """Rounds of all loops together, and items of one list or whole-number range."""
    evaluations: int = 500_000
    """Expressions worked out in all; bounds what functions that call each other can cost."""
    boards: int = 5_000
    """Boards of one design, each placed assembly's counted."""
    findings_shown: int = 50
    """Findings drawn in full; the others are counted."""

    @property
    def depth(self) -> int:
        """The nesting that is honoured."""
        return min(self.nesting, STACK_DEPTH)

    @property
    def exact_bits(self) -> int:
        """The same as `exact_digits`, in binary digits."""
        return self.exact_digits * 10 // 3


DEFAULT: Final = Limits()
