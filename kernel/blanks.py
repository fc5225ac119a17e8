"""Is every blank sound, and how does it lie?

Checks stocks and boards before anything is cut: sizes, names, thickness. A board with a finding is
left out of the plan, and everything that touches it stays silent.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from .board import Axis, Board, Run, board_run
from .design import Design
from .finding import Finding, Place
from .findings import (
    GrainThroughThickness,
    NameTakenTwice,
    SpanNotPositive,
    StockThicknessAmiss,
    ThicknessMatchesNoSpan,
    Thing,
    UnknownStock,
)
from .near import nearest
from .stock import Stock


@dataclass(frozen=True, slots=True)
class Blank:
    """A sound board with its stock and the way it lies."""

    board: Board
    stock: Stock
    run: Run


def sound_blanks(design: Design) -> tuple[tuple[Blank, ...], tuple[Finding, ...]]:
    """The boards that can be cut, in the order written, and what is wrong with the others."""
    findings: list[Finding] = []
    findings += _taken_twice(Thing.STOCK, ((s.name, s.place) for s in design.stocks))
    findings += _taken_twice(Thing.BIT, ((b.name, b.place) for b in design.bits))
    findings += _taken_twice(Thing.BOARD, ((b.name, b.place) for b in design.boards))
    stocks: dict[str, Stock | None] = {}
    for stock in design.stocks:
        wrong = _wrong_stock(stock)
        findings += wrong
        stocks.setdefault(stock.name, None if wrong else stock)
    blanks: dict[str, Blank] = {}
    for board in design.boards:
        found = _blank(board, stocks)
        if isinstance(found, Blank):
            blanks.setdefault(board.name, found)
        else:
            findings += found
    return tuple(blanks.values()), tuple(findings)


def _taken_twice(thing: Thing, named: Iterable[tuple[str, Place | None]]) -> list[Finding]:
    first: dict[str, Place | None] = {}
    findings: list[Finding] = []
    for name, place in named:
        if name in first:
            findings.append(
                NameTakenTwice(place=place, thing=thing, name=name, first_place=first[name])
            )
        else:
            first[name] = place
    return findings


def joins_taken_twice(design: Design) -> list[Finding]:
    """A finding for every join that has the name of an earlier one."""
    return _taken_twice(Thing.JOIN, ((join.name, join.place) for join in design.joins))


def cuts_taken_twice(design: Design) -> list[Finding]:
    """A finding for every shaping that has the name of an earlier one."""
    return _taken_twice(Thing.CUT, ((shaping.name, shaping.place) for shaping in design.shapings))


def _wrong_stock(stock: Stock) -> list[Finding]:
    lo, hi = stock.actual
    if stock.thick > 0 and 0 < lo <= hi:
        return []
    return [
        StockThicknessAmiss(place=stock.place, stock=stock.name, thick=stock.thick, lo=lo, hi=hi)
    ]


def _blank(board: Board, stocks: dict[str, Stock | None]) -> Blank | list[Finding]:
    """The blank, or what is wrong with it: nothing new where its stock is already reported."""
    flat: list[Finding] = [
        SpanNotPositive(
            place=board.place,
            board=board.name,
            axis=axis,
            lo=board.box[axis].lo,
            hi=board.box[axis].hi,
        )
        for axis in Axis
        if board.box[axis].size <= 0
    ]
    if board.stock not in stocks:
        known = tuple(stocks)
        return [
            *flat,
            UnknownStock(
                place=board.place,
                board=board.name,
                stock=board.stock,
                nearest=nearest(board.stock, known),
                known=known,
            ),
        ]
    stock = stocks[board.stock]
    if flat or stock is None:
        return flat
    run = board_run(board, stock)
    if run is not None:
        return Blank(board, stock, run)
    return [_no_run(board, stock)]


def _no_run(board: Board, stock: Stock) -> Finding:
    """Why the board has no thickness: no span matches, or the grain written takes the only one."""
    if board.grain is not None and board_run(replace(board, grain=None), stock) is not None:
        return GrainThroughThickness(
            place=board.place,
            board=board.name,
            axis=board.grain,
            thick=stock.thick,
            stock=stock.name,
        )
    x, y, z = (board.box[axis].size for axis in Axis)
    return ThicknessMatchesNoSpan(
        place=board.place,
        board=board.name,
        sizes=(x, y, z),
        stock=stock.name,
        thick=stock.thick,
        stock_place=stock.place,
    )
