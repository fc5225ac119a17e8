"""The one middle form: what the language makes and the kernel reads.

A `Design` is immutable, in exact millimetres and degrees, names resolved, loops unrolled. It can
equally be written by hand in Python. It never holds a solid, a float or a sentence.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import TypeAlias

from .board import Axis, Board, Move, Point, Span
from .cutter import Bit, Machine
from .expect import Test
from .finding import Place
from .quantity import Quantity
from .stock import Stock


@dataclass(frozen=True, slots=True)
class Word:
    """A bare word among the options of a join or a shaping: a relief, a bit's name, `z.hi`."""

    text: str
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Several:
    """A written list among a join's options."""

    items: tuple[Quantity, ...]
    place: Place | None = None


OptionValue: TypeAlias = Quantity | Word | Several


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One option of a join as written: `relief half_round r3` is a name and two words.

    `place` is that of the name.
    """

    name: str
    values: tuple[OptionValue, ...]
    place: Place | None = None
    value_places: tuple[Place, ...] = ()

    @property
    def whole(self) -> Place | None:
        """From the name to the end of the last value."""
        if self.place is None:
            return None
        end = max((value.end for value in self.value_places), default=self.place.end)
        return Place(self.place.file, self.place.start, end)


class Verb(Enum):
    TO = "to"
    INTO = "into"
    ACROSS = "across"


@dataclass(frozen=True, slots=True)
class BoardRef:
    """A board named in a join, by its full path."""

    name: str
    place: Place | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """One `join` line: it joins every pair of `first` and `second` that meets.

    `name` is the name given with `as`, else one made from the boards and the family.
    """

    name: str
    family: str
    verb: Verb
    first: tuple[BoardRef, ...]
    second: tuple[BoardRef, ...]
    options: tuple[Option, ...] = ()
    place: Place | None = None
    family_place: Place | None = None


@dataclass(frozen=True, slots=True)
class Spots:
    """`y 40mm` after `at`, or `y [40mm, 80mm]`: points along one axis of the board, mm."""

    axis: Axis
    at: tuple[Fraction, ...]
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Along:
    """`y 40mm..80mm` after `at`: a stretch along one axis of the board."""

    axis: Axis
    span: Span
    place: Place | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shaping:
    """One `cut` line: a cut of its own on each of `boards`, which no other board has a part in.

    It is made from the boards' sides facing `axis`, the high ones where `positive`. `at` is in the
    boards' own coordinates, one entry an axis at most. `name` is the name given with `as`, else one
    made from the boards, the side and the family.
    """

    name: str
    family: str
    boards: tuple[BoardRef, ...]
    axis: Axis
    positive: bool
    at: tuple[Spots | Along, ...] = ()
    options: tuple[Option, ...] = ()
    place: Place | None = None
    family_place: Place | None = None
    side_place: Place | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Travel:
    """One `travel` line: `boards` move together, straight, against everything else.

    `along` is the way they go, of any length but 0, in the coordinates of the piece the line stands
    in; `pose` takes these to the finished piece. `distance` is in mm. `name` is what moves, as
    written.
    """

    name: str
    boards: tuple[BoardRef, ...]
    along: Point
    distance: Fraction
    pose: tuple[Move, ...] = ()
    place: Place | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """One `swing` line: `boards` turn together by `degrees` about the line along `about` through
    `at`, right-handed, against everything else. Coordinates, `pose`, `name` as with a travel."""

    name: str
    boards: tuple[BoardRef, ...]
    degrees: Fraction
    about: Axis
    at: Point
    pose: tuple[Move, ...] = ()
    place: Place | None = None


Motion: TypeAlias = Travel | Swing


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A whole piece of furniture, resolved."""

    name: str
    stocks: tuple[Stock, ...] = ()
    bits: tuple[Bit, ...] = ()
    machines: tuple[Machine, ...] = ()
    boards: tuple[Board, ...] = ()
    joins: tuple[Join, ...] = ()
    shapings: tuple[Shaping, ...] = ()
    motions: tuple[Motion, ...] = ()
    tests: tuple[Test, ...] = ()
    place: Place | None = None
