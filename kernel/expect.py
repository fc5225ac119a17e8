"""What does a design claim about itself? The records of `test` blocks.

An expectation is a small closed tree over measures and exact quantities. `kernel/measure.py`
evaluates measures; this module only holds the records.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TypeAlias

from .finding import Place
from .quantity import Quantity


class Op(Enum):
    ADD = "+"
    SUB = "-"
    MUL = "*"
    DIV = "/"


class Relation(Enum):
    EQ = "=="
    NE = "!="
    LT = "<"
    LE = "<="
    GT = ">"
    GE = ">="


@dataclass(frozen=True, slots=True)
class Given:
    """A value the language already worked out."""

    quantity: Quantity
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Measure:
    """A figure the kernel measures: `fit(back, left)` is `Measure("fit", ("back", "left"))`.

    A subject is a board, an assembly put down (`drawer[1]`) or a joint, by its full name.
    """

    name: str
    subjects: tuple[str, ...] = ()
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Arithmetic:
    op: Op
    left: Figure
    right: Figure
    place: Place | None = None


Figure: TypeAlias = Given | Measure | Arithmetic


@dataclass(frozen=True, slots=True)
class Claim:
    """A claim that is true or not by itself: `no interference`, `assembles`, or one about
    `subjects`: `fits(left, bench)` is `Claim("fits", subjects=("left", "bench"))`."""

    words: str
    place: Place | None = None
    subjects: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Compare:
    relation: Relation
    left: Figure
    right: Figure
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Within:
    figure: Figure
    lo: Figure
    hi: Figure
    place: Place | None = None


Statement: TypeAlias = Claim | Compare | Within


@dataclass(frozen=True, slots=True, kw_only=True)
class Test:
    """A named `test` block; every expectation stands alone."""

    __test__ = False  # the name is the language's; pytest must not collect it

    name: str
    expectations: tuple[Statement, ...]
    place: Place | None = None
