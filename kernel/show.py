"""What does a design look like, resolved, as text to read and to compare?

`design_text` prints every record of a `Design` except places: names resolved, loops unrolled, one
record a line, columns aligned in steps of `STEP` so that a longer name seldom moves other lines.
A number is printed whole where it has an end in decimals, else as a fraction: nothing is rounded.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import assert_never

from .board import Axis, Board, Box, Move, Shift, Turn
from .cutter import Bit, BitKind, Machine
from .design import (
    Along,
    Design,
    Join,
    Motion,
    Option,
    OptionValue,
    Several,
    Shaping,
    Spots,
    Swing,
    Travel,
    Word,
)
from .expect import Arithmetic, Claim, Compare, Figure, Given, Measure, Statement, Test, Within
from .figures import figure
from .quantity import ANGLE, Dimension, Quantity
from .stock import Stock

STEP = 4
"""Columns are as wide as their widest entry, rounded up to a multiple of this."""

MOST_DECIMALS = 9
"""Decimals that a float still prints exactly for any length of furniture (up to 1 km)."""


def design_text(design: Design) -> str:
    """The design as lines, ending in a line end; equal designs give equal text.

    Places are left out: moving a line in the source changes nothing here.
    """
    sections = (
        ("stocks", _table(map(_stock, design.stocks))),
        ("bits", _table(map(_bit, design.bits))),
        ("machines", _table(map(_machine, design.machines))),
        ("boards", _boards(design.boards)),
        ("joins", [line for join in design.joins for line in _join(join)]),
        ("cuts", [line for shaping in design.shapings for line in _shaping(shaping)]),
        ("motions", [line for motion in design.motions for line in _motion(motion)]),
        ("tests", [line for test in design.tests for line in _test(test)]),
    )
    lines = [f"design {_quoted(design.name)}"]
    for title, body in sections:
        if body:
            lines += ["", title, *(f"  {line}" for line in body)]
    return "\n".join(lines) + "\n"


def exact(value: Fraction) -> str:
    """The number in full: decimals where they end soon, else a fraction.

    >>> exact(Fraction(127, 80)), exact(Fraction(-1, 3)), exact(Fraction(12))
    ('1.5875', '-1/3', '12')
    """
    text = figure(value, MOST_DECIMALS)
    return text if Fraction(text) == value else str(value)


def exact_mm(value: Fraction) -> str:
    """A length in full: `1.5875mm`, `1/3mm`."""
    return f"{exact(value)}mm"


def quantity_text(quantity: Quantity) -> str:
    """A quantity with its unit: `12mm`, `45deg`, `7`, `1/3mm2`."""
    return f"{exact(quantity.number)}{_unit(quantity.dimension)}"


def _unit(dimension: Dimension) -> str:
    if dimension == ANGLE:
        return "deg"
    powers = dimension.powers
    return " ".join(f"{word}{'' if power == 1 else power}" for word, power in powers if power)


def _table(rows: Iterable[tuple[str, ...]]) -> list[str]:
    """The rows with their cells in columns; missing cells are empty."""
    table = list(rows)
    columns = max((len(row) for row in table), default=0)
    widths = [
        _rounded_up(max((len(row[i]) for row in table if i < len(row)), default=0))
        for i in range(columns)
    ]
    return [
        "".join(f"{cell:<{width}}" for cell, width in zip(row, widths, strict=False)).rstrip()
        for row in table
    ]


def _rounded_up(size: int) -> int:
    """The next multiple of STEP that leaves two blanks; an empty column takes nothing."""
    return -(-(size + 2) // STEP) * STEP if size else 0


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{escaped}"'


# -- stock and cutters ---------------------------------------------------------------------------


def _stock(stock: Stock) -> tuple[str, ...]:
    lo, hi = stock.actual
    return (
        stock.name,
        f"thick {exact_mm(stock.thick)}",
        f"actual {exact_mm(lo)}..{exact_mm(hi)}",
        f"sheet {exact_mm(stock.sheet[0])} by {exact_mm(stock.sheet[1])}" if stock.sheet else "",
        _some("widest", stock.widest),
        _some("longest", stock.longest),
        f"species {stock.species}" if stock.species else "",
    )


def _bit(bit: Bit) -> tuple[str, ...]:
    if bit.kind is BitKind.ROUNDOVER:
        size = f"radius {exact_mm(bit.radius)}"
    else:
        size = f"diameter {exact_mm(bit.diameter)}"
    return (
        bit.name,
        bit.kind.value,
        size,
        _some("flute", bit.flute),
        _some("reach", bit.reach),
        f"angle {exact(bit.angle)}deg" if bit.angle is not None else "",
        "by hand" if bit.by_hand else "",
    )


def _machine(machine: Machine) -> tuple[str, ...]:
    x, y, z = map(exact_mm, machine.travel)
    return (
        machine.name,
        f"travel {x} by {y} by {z}",
        f"feed {exact(machine.feed)}mm/min" if machine.feed is not None else "",
        f"accel {exact(machine.accel)}mm/s2" if machine.accel is not None else "",
    )


def _some(word: str, length: Fraction | None) -> str:
    return f"{word} {exact_mm(length)}" if length is not None else ""


# -- boards --------------------------------------------------------------------------------------


def _boards(boards: tuple[Board, ...]) -> list[str]:
    lines: list[str] = []
    for board, line in zip(boards, _table(map(_board, boards)), strict=True):
        lines += [line, *(f"  {_move(move)}" for move in board.pose)]
    return lines


def _board(board: Board) -> tuple[str, ...]:
    grain = f"grain {board.grain.letter}" if board.grain is not None else ""
    return (board.name, f"of {board.stock}", *_spans(board.box), grain)


def _spans(box: Box) -> tuple[str, ...]:
    return tuple(f"{a.letter} {exact_mm(box[a].lo)}..{exact_mm(box[a].hi)}" for a in Axis)


def _move(move: Move) -> str:
    match move:
        case Turn(degrees, about, at):
            where = ", ".join(f"{a.letter} {exact_mm(at[a])}" for a in Axis)
            return f"turned {exact(degrees)}deg about {about.letter} at {where}"
        case Shift(by):
            return "moved " + ", ".join(f"{a.letter} {exact_mm(by[a])}" for a in Axis)
        case _:
            assert_never(move)


# -- joins and cuts --------------------------------------------------------------------------------


def _join(join: Join) -> list[str]:
    first, second = (", ".join(ref.name for ref in refs) for refs in (join.first, join.second))
    said = f"{first} {join.verb.value} {second} with {join.family}"
    return [_named(said, join.name), *_options(join.options)]


def _shaping(shaping: Shaping) -> list[str]:
    boards = ", ".join(ref.name for ref in shaping.boards)
    said = f"{boards} from {shaping.axis.letter}.{'hi' if shaping.positive else 'lo'}"
    if shaping.at:
        said += f" at {', '.join(map(_spot, shaping.at))}"
    return [_named(f"{said} with {shaping.family}", shaping.name), *_options(shaping.options)]


def _named(said: str, name: str) -> str:
    """What is said with the name it was given; not with one made up from the boards, which has
    blanks in it and says the same again."""
    return said if " " in name else f"{said} as {name}"


def _spot(spot: Spots | Along) -> str:
    match spot:
        case Along(axis, span):
            return f"{axis.letter} {exact_mm(span.lo)}..{exact_mm(span.hi)}"
        case Spots(axis, at):
            return f"{axis.letter} [{', '.join(map(exact_mm, at))}]"
        case _:
            assert_never(spot)


def _options(options: tuple[Option, ...]) -> list[str]:
    return [
        f"  {option.name} {' '.join(map(_option_value, option.values))}".rstrip()
        for option in options
    ]


def _option_value(value: OptionValue) -> str:
    match value:
        case Quantity():
            return quantity_text(value)
        case Word(text):
            return text
        case Several(items):
            return f"[{', '.join(map(quantity_text, items))}]"
        case _:
            assert_never(value)


# -- motions -------------------------------------------------------------------------------------


def _motion(motion: Motion) -> list[str]:
    """What is to move and how, then its boards, then what takes these directions to the piece."""
    match motion:
        case Travel():
            parts = [f"{a.letter} {exact(motion.along[a])}" for a in Axis if motion.along[a]]
            how = f"along {', '.join(parts)} for {exact_mm(motion.distance)}"
            verb = "travel"
        case Swing():
            at = ", ".join(f"{a.letter} {exact_mm(motion.at[a])}" for a in Axis)
            how = f"about {motion.about.letter} at {at} by {exact(motion.degrees)}deg"
            verb = "swing"
        case _:
            assert_never(motion)
    boards = ", ".join(ref.name for ref in motion.boards)
    turned = [f"  {_move(move)}" for move in motion.pose]
    return [f"{verb} {motion.name} {how}", f"  boards {boards}", *turned]


# -- tests ---------------------------------------------------------------------------------------


def _test(test: Test) -> list[str]:
    return [_quoted(test.name), *(f"  expect {_statement(each)}" for each in test.expectations)]


def _statement(statement: Statement) -> str:
    match statement:
        case Claim(words, subjects=subjects):
            return f"{words}({', '.join(subjects)})" if subjects else words
        case Compare(relation, left, right):
            return f"{_figure(left)} {relation.value} {_figure(right)}"
        case Within(value, lo, hi):
            return f"{_figure(value)} within {_figure(lo)}..{_figure(hi)}"
        case _:
            assert_never(statement)


def _figure(value: Figure) -> str:
    match value:
        case Given(quantity):
            return quantity_text(quantity)
        case Measure(name, subjects):
            return f"{name}({', '.join(subjects)})"
        case Arithmetic(op, left, right):
            return f"({_figure(left)} {op.value} {_figure(right)})"
        case _:
            assert_never(value)
