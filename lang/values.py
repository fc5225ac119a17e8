"""What can an expression of the language be worth?

Measures are `kernel.quantity.Quantity`, truths are `bool`, texts are `str`; stock, bits and
machines are the kernel's own records. The rest stands here. A value that could not be worked out,
because a finding already told why, is `UNKNOWN`: whatever touches it becomes unknown too and says
nothing, so that one slip gives one message.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import Final, TypeAlias

from ..kernel.board import Board, Span
from ..kernel.cutter import Bit, Machine
from ..kernel.finding import Place
from ..kernel.quantity import ANGLE, AREA, COUNT, LENGTH, MASS, VOLUME, Dimension, Quantity
from ..kernel.stock import Stock
from .units import ACCELERATION, SPEED


class Unknown(Enum):
    """What could not be worked out."""

    UNKNOWN = "unknown"


UNKNOWN: Final = Unknown.UNKNOWN


@dataclass(frozen=True, slots=True)
class Items:
    """A list. `size` counts its items, those of lists in it and the lists themselves: what it costs
    to go through it, however often its parts are one and the same."""

    items: tuple[Value, ...]
    size: int


@dataclass(frozen=True, slots=True)
class Stretch:
    """A range `lo..hi` of two measures of one dimension."""

    lo: Quantity
    hi: Quantity


@dataclass(frozen=True, slots=True)
class BoardValue:
    """A board, with what it is cut from."""

    board: Board
    stock: Stock


@dataclass(frozen=True, slots=True)
class SpanOf:
    """`left.x`: where a board lies along one axis."""

    span: Span


@dataclass(frozen=True, slots=True)
class Placed:
    """An assembly put down, by its full name: its boards and what is placed in it. `may_have` says
    of a name that is not among them whether a line that could not be read may have declared it."""

    name: str
    members: Mapping[str, Value]
    may_have: Callable[[str], bool]


@dataclass(slots=True)
class Group:
    """What was declared under one name with an index, `shelf[i]`. It grows while a design is read.

    `unsure` says that some index could not be worked out, so that one may be missing.
    """

    name: str
    items: dict[int, Value] = field(default_factory=dict)
    places: dict[int, Place] = field(default_factory=dict)
    unsure: bool = False


Value: TypeAlias = (
    Quantity
    | bool
    | str
    | Items
    | Stretch
    | Stock
    | Bit
    | Machine
    | BoardValue
    | SpanOf
    | Placed
    | Group
    | Unknown
)


class Kind(Enum):
    """What sort of thing a value is, for parameters and for findings."""

    LENGTH = "length"
    AREA = "area"
    VOLUME = "volume"
    MASS = "mass"
    ANGLE = "angle"
    COUNT = "count"
    SPEED = "speed"
    ACCELERATION = "acceleration"
    OTHER_MEASURE = "other measure"
    TRUTH = "bool"
    TEXT = "text"
    LIST = "list"
    RANGE = "range"
    STOCK = "stock"
    BIT = "bit"
    MACHINE = "machine"
    BOARD = "board"
    SPAN = "span"
    PLACED = "placed"
    GROUP = "group"
    UNKNOWN = "unknown"


MEASURED_KINDS: Final[Mapping[Dimension, Kind]] = {
    COUNT: Kind.COUNT,
    LENGTH: Kind.LENGTH,
    AREA: Kind.AREA,
    VOLUME: Kind.VOLUME,
    MASS: Kind.MASS,
    ANGLE: Kind.ANGLE,
    SPEED: Kind.SPEED,
    ACCELERATION: Kind.ACCELERATION,
}

_RECORD_KINDS: Final[Mapping[type, Kind]] = {
    bool: Kind.TRUTH,
    str: Kind.TEXT,
    Items: Kind.LIST,
    Stretch: Kind.RANGE,
    Stock: Kind.STOCK,
    Bit: Kind.BIT,
    Machine: Kind.MACHINE,
    BoardValue: Kind.BOARD,
    SpanOf: Kind.SPAN,
    Placed: Kind.PLACED,
    Group: Kind.GROUP,
    Unknown: Kind.UNKNOWN,
}


def size_of(items: tuple[Value, ...]) -> int:
    """The `size` of a list of these."""
    return 1 + sum(item.size if isinstance(item, Items) else 1 for item in items)


def kind_of(value: Value) -> Kind:
    """The sort of thing that `value` is."""
    if isinstance(value, Quantity):
        return MEASURED_KINDS.get(value.dimension, Kind.OTHER_MEASURE)
    return _RECORD_KINDS[type(value)]
