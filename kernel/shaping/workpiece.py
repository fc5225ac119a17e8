"""On what board, from which side and where is a cut made?

A `Workpiece` is one board under one shaping. It answers where the cut lies, `points` and `stretch`
along an axis of the side, checked against the board, and makes the `Cut` records. All coordinates
are the board's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeVar

from ..blanks import Blank
from ..board import Axis, Board, Run, Span
from ..corners import Bounds
from ..cuts import Cut, Side, Work
from ..cutter import Bit
from ..design import Along, Shaping, Spots
from ..finding import Finding, Place
from ..region import Region
from ..shaping_findings import BreaksOut, DeeperThanBoard, PlaceAmiss, Placing, TakesNothing
from ..thresholds import OVERSHOOT

OUT = Fraction(OVERSHOOT)

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Workpiece:
    """`name` is that of the cut; `others` are the other sound boards of the design."""

    name: str
    shaping: Shaping
    board: Board
    run: Run
    bits: tuple[Bit, ...]
    others: Mapping[str, Blank]

    @property
    def kind(self) -> str:
        return self.shaping.family

    @property
    def side(self) -> Side:
        """The side that the cut is made from."""
        return Side(self.shaping.axis, self.shaping.positive)

    @property
    def face(self) -> Side:
        """The face from which the machine cuts what shapes the outline."""
        return Side(self.run.thick, True)

    def span(self, axis: Axis) -> Span:
        return self.board.box[axis]

    def end(self, side: Side) -> Fraction:
        """Where the board ends on a side."""
        span = self.span(side.axis)
        return span.hi if side.positive else span.lo

    def limits(self, side: Side) -> Bounds:
        """The blank in the plane of a side."""
        u, v = (self.span(axis) for axis in side.plane)
        return float(u.lo), float(v.lo), float(u.hi), float(v.hi)

    # ---- where ----

    def placed(self, axis: Axis) -> Spots | Along | None:
        return next((entry for entry in self.shaping.at if entry.axis == axis), None)

    def points(self, axis: Axis) -> tuple[Fraction, ...] | Finding:
        """The points along an axis; the middle of the board where none is written."""
        match self.placed(axis):
            case Spots(at=at):
                return at
            case Along(place=place):
                return self.amiss(axis, Placing.POINTS, place)
            case None:
                span = self.span(axis)
                return ((span.lo + span.hi) / 2,)

    def stretch(self, axis: Axis) -> Span | Finding:
        """The stretch along an axis, within the board; all of the board where none is written."""
        match self.placed(axis):
            case Spots(place=place):
                return self.amiss(axis, Placing.STRETCH, place)
            case Along(span=span, place=place):
                return self.inside(axis, span, place) or span
            case None:
                return self.span(axis)

    def amiss(
        self, axis: Axis, takes: Placing, place: Place | None, *, missing: bool = False
    ) -> PlaceAmiss:
        """The finding that something else is written along an axis than the cut takes."""
        return PlaceAmiss(
            place=place or self.shaping.family_place or self.shaping.place,
            cut=self.kind,
            side=side_word(self.side),
            axis=axis,
            takes=takes,
            across=axis == self.shaping.axis,
            missing=missing,
        )

    def inside(
        self, axis: Axis, cut: Span, place: Place | None, *, touching: bool = True
    ) -> Finding | None:
        """What is wrong with a cut that runs so far along an axis: it lies beside the board, or
        runs out of it. Without `touching` it may not even come to the board's edge."""
        own = self.span(axis)
        place = place or self.place_along(axis)
        if cut.hi <= own.lo or cut.lo >= own.hi:
            below = cut.hi <= own.lo
            return TakesNothing(
                place=place,
                cut=self.kind,
                board=self.board.name,
                axis=axis,
                at=cut.hi if below else cut.lo,
                end=own.lo if below else own.hi,
                board_place=self.board.place,
            )
        if own.lo < cut.lo and cut.hi < own.hi:
            return None
        if touching and own.lo <= cut.lo and cut.hi <= own.hi:
            return None
        return BreaksOut(
            place=place,
            cut=self.kind,
            board=self.board.name,
            axis=axis,
            lo=cut.lo,
            hi=cut.hi,
            board_lo=own.lo,
            board_hi=own.hi,
            board_place=self.board.place,
        )

    def place_along(self, axis: Axis) -> Place | None:
        """Where the place along an axis is written; that of the kind of cut where it is not."""
        entry = self.placed(axis)
        written = None if entry is None else entry.place
        return written or self.shaping.family_place or self.shaping.place

    def open_ends(self, axis: Axis, cut: Span) -> Span:
        """The stretch, going on past the board's ends where it comes to them."""
        own = self.span(axis)
        return Span(
            cut.lo - OUT if cut.lo == own.lo else cut.lo,
            cut.hi + OUT if cut.hi == own.hi else cut.hi,
        )

    def is_open(self, axis: Axis, cut: Span) -> bool:
        """True when a stretch comes to an end of the board."""
        own = self.span(axis)
        return cut.lo == own.lo or cut.hi == own.hi

    # ---- how deep ----

    def too_deep(
        self, side: Side, deep: Fraction, option: str, *, can_go_through: bool = False
    ) -> Finding | None:
        """The finding that a cut as deep as that from a side leaves no wood; None when it does."""
        size = self.span(side.axis).size
        if deep < size:
            return None
        return DeeperThanBoard(
            place=self.option_place(option),
            cut=self.kind,
            board=self.board.name,
            axis=side.axis,
            option=option,
            deep=deep,
            size=size,
            can_go_through=can_go_through,
            board_place=self.board.place,
        )

    def option_place(self, name: str) -> Place | None:
        """Where an option is written; that of the kind of cut where it is not."""
        written = (option.place for option in self.shaping.options if option.name == name)
        return next(written, self.shaping.family_place or self.shaping.place)

    # ---- what is cut ----

    def made(
        self,
        *,
        region: Region,
        bit: str,
        side: Side | None = None,
        asked: Region | None = None,
        deep: Fraction | None = None,
        work: Work | None = None,
        by_hand: bool = False,
    ) -> Cut:
        """A cut from `side` (the shaping's own when None), right through when `deep` is None."""
        return Cut(
            board=self.board.name,
            side=side or self.side,
            work=work or (Work.THROUGH if deep is None else Work.POCKET),
            region=region,
            asked=region if asked is None else asked,
            depth=None if deep is None else float(deep),
            bit=bit,
            by_hand=by_hand,
            joint=self.name,
            of_joint=False,
            place=self.shaping.place,
        )


def side_word(side: Side) -> str:
    """A side as the language writes it.

    >>> side_word(Side(Axis.X, True))
    'x.hi'
    """
    return f"{side.axis.letter}.{'hi' if side.positive else 'lo'}"
