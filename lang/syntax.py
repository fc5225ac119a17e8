"""The tree of a `.dry` text: plain records, every one with its place.

`parse.py` makes these and nothing else of the parser leaves it. Fields that hold words keep the
place of each word, so that later stages can underline just that.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from ..kernel.finding import Place


@dataclass(frozen=True, slots=True)
class Ident:
    """A bare word with its place."""

    text: str
    place: Place


# ---- expressions ---------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Number:
    """`18mm`, `3/4in`, `1-1/2in`, `7`: the exact number, its unit word (None for a count)."""

    value: Fraction
    unit: str | None
    text: str
    place: Place


@dataclass(frozen=True, slots=True)
class Text:
    value: str
    place: Place


@dataclass(frozen=True, slots=True)
class Name:
    text: str
    place: Place


@dataclass(frozen=True, slots=True)
class Index:
    """`drawer[1]`."""

    of: Expr
    at: Expr
    place: Place


@dataclass(frozen=True, slots=True)
class Member:
    """`left.thick`, `drawer[1].front`, `left.x.lo`."""

    of: Expr
    name: Ident
    place: Place


@dataclass(frozen=True, slots=True)
class Unary:
    """`-a` or `not a`."""

    op: str
    operand: Expr
    place: Place


@dataclass(frozen=True, slots=True)
class Binary:
    """`+ - * /`, comparisons `== != < <= > >=`, and `and`, `or`."""

    op: str
    left: Expr
    right: Expr
    op_place: Place
    place: Place


@dataclass(frozen=True, slots=True)
class Argument:
    """An argument of a call; `name` is set when written `name: value`."""

    name: Ident | None
    value: Expr
    place: Place


@dataclass(frozen=True, slots=True)
class Call:
    function: Ident
    arguments: tuple[Argument, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class ListOf:
    items: tuple[Expr, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Range:
    """`lo..hi`, both ends belonging to it."""

    lo: Expr
    hi: Expr
    place: Place


@dataclass(frozen=True, slots=True)
class Choice:
    """`if c then a else b`."""

    condition: Expr
    yes: Expr
    no: Expr
    place: Place


@dataclass(frozen=True, slots=True)
class WithinRange:
    """`a within lo..hi`."""

    value: Expr
    range: Range
    place: Place


Expr: TypeAlias = (
    Number
    | Text
    | Name
    | Index
    | Member
    | Unary
    | Binary
    | Call
    | ListOf
    | Range
    | Choice
    | WithinRange
)

# ---- pieces of statements ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Property:
    """One line in the braces of `stock`, `bit`, `machine` or a join's `with`: a word and what
    follows it, `sheet 2440mm by 1220mm`, `actual 11.6mm..12.2mm`, `by hand`, `relief corner`.
    Words such as `by` between figures are kept among the items as `Name`s."""

    word: Ident
    items: tuple[Expr, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class SpanClause:
    """`x a..b`; `hi_is_run` when written `a..+n`."""

    axis: Ident
    lo: Expr
    hi: Expr
    hi_is_run: bool
    place: Place


@dataclass(frozen=True, slots=True)
class Coordinate:
    """`x 12mm` after `at`."""

    axis: Ident
    value: Expr
    place: Place


@dataclass(frozen=True, slots=True)
class SideName:
    """`x.hi` after `from`."""

    axis: Ident
    end: Ident
    place: Place


@dataclass(frozen=True, slots=True)
class Spot:
    """`y 40mm`, `y [40mm, 80mm]` or `y 40mm..80mm` after the `at` of a cut. `hi` is None for
    points; `hi_is_run` when written `y 40mm..+40mm`."""

    axis: Ident
    lo: Expr
    hi: Expr | None
    hi_is_run: bool
    place: Place


@dataclass(frozen=True, slots=True)
class Turned:
    """`turned 8deg about y at x.., z..`; coordinates not named are 0."""

    angle: Expr
    axis: Ident
    at: tuple[Coordinate, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Parameter:
    """A parameter of an `assembly` or `fn`: `w: length = 300mm`."""

    name: Ident
    kind: Ident | None
    default: Expr | None
    place: Place


# ---- statements ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class DesignTitle:
    title: Text
    place: Place


@dataclass(frozen=True, slots=True)
class Use:
    path: Text
    place: Place


@dataclass(frozen=True, slots=True)
class Param:
    name: Ident
    value: Expr
    within: Range | None
    place: Place


@dataclass(frozen=True, slots=True)
class Let:
    name: Ident
    value: Expr
    place: Place


@dataclass(frozen=True, slots=True)
class Fn:
    name: Ident
    parameters: tuple[Parameter, ...]
    body: Expr
    place: Place


@dataclass(frozen=True, slots=True)
class Declaration:
    """`stock`, `bit` or `machine` with its braces; `keyword.text` says which."""

    keyword: Ident
    name: Ident
    properties: tuple[Property, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class BoardLine:
    """`board left of ply12 x 0..t y 0..d z 0..h grain z turned 8deg about y`.

    `name` is a `Name` or, inside a loop, an `Index` of one (`board shelf[i] of …`)."""

    name: Name | Index
    stock: Ident
    spans: tuple[SpanClause, ...]
    grain: Ident | None
    turned: tuple[Turned, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class JoinLine:
    """`join a, b to c with box { … } as corner`. `first` and `second` are Name, Index, Member.
    `alias` is a Name or Index."""

    first: tuple[Expr, ...]
    verb: Ident
    second: tuple[Expr, ...]
    family: Ident
    options: tuple[Property, ...]
    alias: Name | Index | None
    place: Place


@dataclass(frozen=True, slots=True)
class CutLine:
    """`cut a, b from x.hi at y 40mm with bore { … } as holes`. `boards` are Name, Index, Member."""

    boards: tuple[Expr, ...]
    side: SideName
    at: tuple[Spot, ...]
    family: Ident
    options: tuple[Property, ...]
    alias: Name | Index | None
    place: Place


@dataclass(frozen=True, slots=True)
class Assembly:
    name: Ident
    parameters: tuple[Parameter, ...]
    body: tuple[Stmt, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class PlaceLine:
    """`place drawer[i] = drawer(w: 200mm) at x 1mm, z 3mm turned 90deg about z`."""

    name: Name | Index
    assembly: Ident
    arguments: tuple[Argument, ...]
    at: tuple[Coordinate, ...]
    turned: tuple[Turned, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Heading:
    """`-y` after `along`, or the `z` after `about`."""

    axis: Ident
    is_back: bool
    place: Place


@dataclass(frozen=True, slots=True)
class MotionLine:
    """`travel drawer[i] along -y for depth` (or `along y 100mm, z 20mm`), and
    `swing door about z at x 0mm, y 12mm by 90deg`; `keyword.text` says which."""

    keyword: Ident
    moving: tuple[Expr, ...]
    way: Heading | tuple[Coordinate, ...]
    at: tuple[Coordinate, ...]
    amount: Expr
    place: Place


@dataclass(frozen=True, slots=True)
class For:
    variable: Ident
    over: Expr
    body: tuple[Stmt, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class If:
    """`if c { … } else { … }`; `else_place` is where the word `else` stands, None without one."""

    condition: Expr
    yes: tuple[Stmt, ...]
    no: tuple[Stmt, ...]
    place: Place
    else_place: Place | None = None


@dataclass(frozen=True, slots=True)
class ClaimWords:
    """`no interference`, `assembles`: a claim in bare words."""

    words: tuple[Ident, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Expect:
    claim: Expr | ClaimWords
    place: Place


@dataclass(frozen=True, slots=True)
class TestBlock:
    __test__ = False  # the language's word; pytest must not collect it

    title: Text
    body: tuple[Stmt, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Broken:
    """A statement that could not be read; a finding has said why. `names` are what it seems to
    declare: they exist but mean nothing, and what touches them stays silent. After a broken `use`
    any name may have been declared."""

    keyword: Ident
    names: tuple[Ident, ...]
    place: Place


Stmt: TypeAlias = (
    DesignTitle
    | Use
    | Param
    | Let
    | Fn
    | Declaration
    | BoardLine
    | JoinLine
    | CutLine
    | Assembly
    | PlaceLine
    | MotionLine
    | For
    | If
    | TestBlock
    | Expect
    | Broken
)


@dataclass(frozen=True, slots=True)
class Comment:
    """A `#` comment, its text without the `#` and without blanks at its end; `own_line` when
    nothing but blanks stands before it."""

    text: str
    own_line: bool
    place: Place


@dataclass(frozen=True, slots=True)
class Program:
    """A whole file: what was understood, in order, and every comment."""

    file: str
    statements: tuple[Stmt, ...]
    comments: tuple[Comment, ...]
