"""Which pieces have to be cut, how many of each, and out of what?

A row is one shape of part. Boards share a row when one could take the other's place: same stock
and sizes and the same cuts, after turning the board as its blank allows (half turns, for a square
leg quarter turns about its length too). Mirror images are different parts and keep rows of their
own. Made from blanks and cuts alone; joints are named by their families as written.
"""

from __future__ import annotations

import csv
import io
import json
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from .besides import Besides
from .cuts import Work
from .figures import figure
from .partshape import part_shape
from .plan import BoardPlan, CutPlan
from .stock import Stock
from .views import roles

SCHEMA = "dryfit-cutlist-1"


@dataclass(frozen=True, slots=True, kw_only=True)
class HandStep:
    """Work by hand on each board of a row: `count` cuts with one bit."""

    work: Work
    bit: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One shape of part. Lengths are exact mm; the grain runs along `length`.

    `delivered` is the least and greatest thickness the yard delivers, None when the design does
    not say. `joints` gives of each family the most that hold one board; `bits` are the machine's.
    """

    parts: tuple[str, ...]
    length: Fraction
    width: Fraction
    thick: Fraction
    delivered: tuple[Fraction, Fraction] | None
    stock: str
    species: str | None
    joints: tuple[tuple[str, int], ...]
    bits: tuple[str, ...]
    hand_steps: tuple[HandStep, ...]

    @property
    def count(self) -> int:
        return len(self.parts)


def cut_list(plan: CutPlan) -> tuple[Row, ...]:
    """The rows, in the order in which the first board of each is written."""
    alike: dict[object, list[BoardPlan]] = {}
    for board in plan.boards:
        key = (board.board.stock, _sizes(board), part_shape(board))
        alike.setdefault(key, []).append(board)
    stocks = {stock.name: stock for stock in plan.design.stocks}
    return tuple(_row(boards, plan, stocks) for boards in alike.values())


def _row(boards: list[BoardPlan], plan: CutPlan, stocks: dict[str, Stock]) -> Row:
    first = boards[0]
    length, width, thick = _sizes(first)
    stock = stocks.get(first.board.stock)
    varies = stock is not None and stock.actual != (stock.thick, stock.thick)
    return Row(
        parts=tuple(board.board.name for board in boards),
        length=length,
        width=width,
        thick=thick,
        delivered=stock.actual if stock is not None and varies else None,
        stock=first.board.stock,
        species=None if stock is None else stock.species,
        joints=_families({board.board.name for board in boards}, plan),
        bits=tuple(dict.fromkeys(cut.bit for cut in first.cuts if not cut.by_hand)),
        hand_steps=hand_steps(first),
    )


def _sizes(plan: BoardPlan) -> tuple[Fraction, Fraction, Fraction]:
    length, width, thick = (plan.board.box[axis].size for axis in roles(plan))
    return length, width, thick


def _families(names: set[str], plan: CutPlan) -> tuple[tuple[str, int], ...]:
    """The most joints of each family that hold one of the boards, those that cut nothing of it
    included."""
    found: Counter[tuple[str, str]] = Counter()
    for joint in plan.joints:
        for name in sorted({joint.first.name, joint.second.name} & names):
            found[joint.join.family, name] += 1
    most: dict[str, int] = {}
    for (family, _), number in found.items():
        most[family] = max(number, most.get(family, 0))
    return tuple(sorted(most.items()))


def hand_steps(plan: BoardPlan) -> tuple[HandStep, ...]:
    """The work by hand on a board, each kind with each bit once."""
    found = Counter((cut.work, cut.bit) for cut in plan.cuts if cut.by_hand)
    return tuple(HandStep(work=work, bit=bit, count=n) for (work, bit), n in found.items())


# -- as text -------------------------------------------------------------------------------------

HEADINGS: tuple[str, ...] = (
    "part",
    "count",
    "length",
    "width",
    "thick",
    "grain",
    "stock",
    "joints",
    "bits",
    "by hand",
)
FIGURES = frozenset({1, 2, 3, 4})
"""Columns set to the right."""

NAMES_WIDTH = 32
"""Letters a line of part names may take in the table before the next begins."""


def as_table(rows: Iterable[Row], extra: Iterable[Besides] = ()) -> str:
    """The rows in aligned columns, lengths in mm; many part names go over several lines.

    What the piece needs besides boards follows, a line a kind and size.
    """
    cells = [HEADINGS]
    for row in rows:
        _, *rest = _cells(row)
        first, *more = _wrapped(row.parts)
        cells.append((first, *rest))
        cells.extend((names, *("" for _ in rest)) for names in more)
    widths = [max(len(line[column]) for line in cells) for column in range(len(HEADINGS))]
    table = "".join(f"{_aligned(line, widths)}\n" for line in cells)
    return table + "".join(_besides_lines(tuple(extra)))


def _besides_lines(extra: tuple[Besides, ...]) -> list[str]:
    if not extra:
        return []
    wide = max(len(piece.words) for piece in extra)
    number = max(len(str(piece.count)) for piece in extra)
    lines = [
        f"{piece.words:<{wide}}  {piece.count:>{number}}  {_source(piece)}, "
        f"for {', '.join(piece.families)}\n"
        for piece in extra
    ]
    return ["\n", "besides boards\n", *lines]


def _source(piece: Besides) -> str:
    return "bought" if piece.is_bought else "made"


def _aligned(line: tuple[str, ...], widths: list[int]) -> str:
    padded = (
        text.rjust(width) if column in FIGURES else text.ljust(width)
        for column, (text, width) in enumerate(zip(line, widths, strict=True))
    )
    return "  ".join(padded).rstrip()


def _wrapped(names: tuple[str, ...]) -> list[str]:
    """The names, commas between them, in lines of `NAMES_WIDTH` where no name is longer."""
    lines = [""]
    for number, name in enumerate(names, start=1):
        word = name if number == len(names) else f"{name},"
        if lines[-1] and len(lines[-1]) + 1 + len(word) > NAMES_WIDTH:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".lstrip()
    return lines


def as_csv(rows: Iterable[Row], extra: Iterable[Besides] = ()) -> str:
    """The rows as comma separated values (RFC 4180 but for bare newlines), lengths in mm.

    A word that a spreadsheet would take for a formula gets an apostrophe before it. What is needed
    besides boards comes last, `bought` or `made` in the column of the stock.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(HEADINGS)
    for cells in (*map(_cells, rows), *map(_besides_cells, extra)):
        writer.writerow([_no_formula(cell) for cell in cells])
    return text.getvalue()


def as_json(rows: Iterable[Row], extra: Iterable[Besides] = ()) -> str:
    """The rows as JSON, lengths in mm.

    An object of `schema` ("dryfit-cutlist-1"), `units` ("mm") and `rows`. A row has `parts` (their
    names), `count`, `length`, `width`, `thick`, `grain` (what it runs along, always "length"),
    `delivered` ([least, greatest] thickness, null when not stated), `stock`, `species` (or null),
    `joints` (family: the most of them on one board), `bits` (names, the machine's) and `by_hand`
    (a list of `work`, `bit` and `count` on one board). `besides` lists what is needed besides
    boards: `piece` (such as "dowel"), `count`, `length`, `width`, `thick` (of what is round the
    diameter twice), `bought` (else it is made from offcuts) and `joints` (families).
    """
    value = {
        "schema": SCHEMA,
        "units": "mm",
        "rows": [_as_object(row) for row in rows],
        "besides": [_besides_object(piece) for piece in extra],
    }
    return json.dumps(value, indent=2, ensure_ascii=False) + "\n"


def _cells(row: Row) -> tuple[str, ...]:
    return (
        ", ".join(row.parts),
        str(row.count),
        *(figure(size) for size in (row.length, row.width, row.thick)),
        "length",
        _stock_words(row),
        ", ".join(f"{n} {family}" for family, n in row.joints),
        ", ".join(row.bits),
        ", ".join(f"{s.count} {s.work.value} {s.bit}" for s in row.hand_steps),
    )


def _besides_cells(piece: Besides) -> tuple[str, ...]:
    sizes = (figure(size) for size in piece.box)
    source = _source(piece)
    return (
        piece.ware.value, str(piece.count), *sizes, "length", source, ", ".join(piece.families),
        "", "",
    )  # fmt: skip


def _besides_object(piece: Besides) -> dict[str, object]:
    length, width, thick = map(_number, piece.box)
    return {
        "piece": piece.ware.value,
        "count": piece.count,
        "length": length,
        "width": width,
        "thick": thick,
        "bought": piece.is_bought,
        "joints": list(piece.families),
    }


def _stock_words(row: Row) -> str:
    if row.delivered is None:
        return row.stock
    low, high = (figure(value) for value in row.delivered)
    return f"{row.stock} ({low}..{high})"


def _as_object(row: Row) -> dict[str, object]:
    delivered = None if row.delivered is None else [_number(v) for v in row.delivered]
    return {
        "parts": list(row.parts),
        "count": row.count,
        "length": _number(row.length),
        "width": _number(row.width),
        "thick": _number(row.thick),
        "grain": "length",
        "delivered": delivered,
        "stock": row.stock,
        "species": row.species,
        "joints": dict(row.joints),
        "bits": list(row.bits),
        "by_hand": [
            {"work": step.work.value, "bit": step.bit, "count": step.count}
            for step in row.hand_steps
        ],
    }


def _number(value: Fraction) -> int | float:
    """The number as `figure` prints it."""
    text = figure(value)
    return float(text) if "." in text else int(text)


def _no_formula(cell: str) -> str:
    return f"'{cell}" if cell[:1] in ("=", "+", "-", "@", "\t", "\r") else cell
