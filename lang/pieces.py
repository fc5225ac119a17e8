"""Which boards are made, and where do they stand? The lines that make wood: `board` and `place`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from ..kernel.board import Axis, Board, Box, Move, Shift, Span, Turn
from ..kernel.finding import Place
from ..kernel.near import nearest
from ..kernel.quantity import ANGLE, Quantity
from ..kernel.stock import Stock
from . import calls, syntax
from .arithmetic import length, whole, wrong_kind
from .evaluate import evaluate
from .name_findings import (
    DeclaredLater,
    DeclaredTwice,
    NeedsIndex,
    UnknownAssembly,
    UnknownStock,
)
from .names import Binding, Pattern, Scope, base_name
from .run import Frame, Room, Run
from .units import in_dimension
from .value_findings import AxisTwice, EmptySpan, TooManyBoards
from .values import UNKNOWN, BoardValue, Group, Kind, Placed, Value

AXES: Final[Mapping[str, Axis]] = {axis.letter: axis for axis in Axis}


@dataclass(frozen=True, slots=True)
class Label:
    """What a board or a placed assembly is called: a name, and an index where it has one. `key` is
    None for a plain name, and for an index that could not be worked out (`is_unsure`)."""

    base: syntax.Name
    key: int | None
    is_unsure: bool
    place: Place

    @property
    def text(self) -> str:
        return self.base.text if self.key is None else f"{self.base.text}[{self.key}]"


def label(name: syntax.Name | syntax.Index, scope: Scope, run: Run) -> Label:
    """The label that a line gives."""
    base = base_name(name)
    if isinstance(name, syntax.Name):
        return Label(base, None, False, name.place)
    key = whole(evaluate(name.at, scope, run), name.at.place, run)
    return Label(base, key, key is None, name.place)


# ---- boards --------------------------------------------------------------------------------------


def board(line: syntax.BoardLine, scope: Scope, room: Room, run: Run) -> None:
    """Make a board, where everything its line says is understood."""
    named = label(line.name, scope, run)
    name = room.frame.prefix + named.text
    stock = stock_named(line.stock, scope, run)
    box = _box(line, name, scope, run)
    turns = tuple(turn(turned, scope, run) for turned in line.turned)
    grain = None if line.grain is None else AXES[line.grain.text]
    value: Value = UNKNOWN
    moves = tuple(move for move in turns if move is not None)
    if stock is not None and box is not None and len(moves) == len(turns):
        made = Board(
            name=name,
            stock=stock.name,
            box=box,
            pose=moves + room.frame.moves,
            grain=grain,
            place=named.place,
        )
        value = BoardValue(made, stock)
    if _take(named, value, room, run) and isinstance(value, BoardValue) and not run.rehearsing:
        if len(run.boards) >= run.limits.boards:
            run.stop(TooManyBoards(place=line.place, limit=run.limits.boards))
            return
        run.boards.append(value.board)


def stock_named(name: syntax.Ident, scope: Scope, run: Run) -> Stock | None:
    """The stock of that name: other things nearer by may share it."""
    found = scope.value_of(name.text, Stock)
    if found is not None and isinstance(found.value, Stock):
        return found.value
    binding = scope.value(name.text)
    if binding is not None:
        if binding.value is not UNKNOWN:
            run.report(wrong_kind(binding.value, (Kind.STOCK,), name.place, binding.place))
        return None
    if name.place in run.passed:
        return None
    run.passed.add(name.place)
    later = scope.stock_declared_later(name.text)
    if later is not None:
        run.report_missing(DeclaredLater(place=name.place, name=name.text, other=later))
    elif not scope.may_declare(name.text):
        known = tuple(scope.names_of(Stock))
        near = nearest(name.text, known)
        run.report_missing(
            UnknownStock(place=name.place, name=name.text, nearest=near, known=known)
        )
    return None


def _box(line: syntax.BoardLine, name: str, scope: Scope, run: Run) -> Box | None:
    spans: dict[Axis, Span | None] = {}
    for clause in line.spans:
        span = _span(clause, name, scope, run)
        spans.setdefault(AXES[clause.axis.text], span)
    x, y, z = (spans.get(along) for along in Axis)
    if x is None or y is None or z is None:
        return None  # a span left out was told when the line was read
    return Box(x, y, z)


def _span(clause: syntax.SpanClause, name: str, scope: Scope, run: Run) -> Span | None:
    lo = length(evaluate(clause.lo, scope, run), clause.lo.place, run)
    hi = length(evaluate(clause.hi, scope, run), clause.hi.place, run)
    along = AXES[clause.axis.text]
    if lo is None or hi is None:
        return None
    if clause.hi_is_run:
        hi = lo + hi
    if lo >= hi:
        empty = EmptySpan(place=clause.place, board=name, axis=along, lo=lo, hi=hi)
        run.report_once(empty, (EmptySpan, along, lo, hi))
        return None
    return Span(lo, hi)


# ---- moves ---------------------------------------------------------------------------------------


def turn(turned: syntax.Turned, scope: Scope, run: Run) -> Turn | None:
    value = evaluate(turned.angle, scope, run)
    at = point(turned.at, scope, run)
    angle = in_dimension(value, ANGLE) if isinstance(value, Quantity) else None
    if angle is None and value is not UNKNOWN:
        run.report(wrong_kind(value, (Kind.ANGLE,), turned.angle.place))
    if angle is None or at is None:
        return None
    return Turn(angle.number, AXES[turned.axis.text], at)


def point(
    coordinates: tuple[syntax.Coordinate, ...], scope: Scope, run: Run
) -> tuple[Fraction, Fraction, Fraction] | None:
    """Where `x …, y …, z …` is; what is not named is 0."""
    given: dict[Axis, tuple[Fraction | None, Place]] = {}
    for coordinate in coordinates:
        along = AXES[coordinate.axis.text]
        value = evaluate(coordinate.value, scope, run)
        figure = length(value, coordinate.value.place, run)
        if along in given:
            other = given[along][1]
            run.report(AxisTwice(place=coordinate.place, axis=along, other=other))
        else:
            given[along] = (figure, coordinate.place)
    x, y, z = (given[along][0] if along in given else Fraction(0) for along in Axis)
    return None if x is None or y is None or z is None else (x, y, z)


def _moves(line: syntax.PlaceLine, scope: Scope, run: Run) -> tuple[Move, ...] | None:
    """The turns of an assembly put down, then where it goes."""
    turns = [turn(turned, scope, run) for turned in line.turned]
    by = point(line.at, scope, run)
    if by is None or any(move is None for move in turns):
        return None
    moves: tuple[Move, ...] = tuple(move for move in turns if move is not None)
    return (*moves, Shift(by)) if any(by) else moves


# ---- assemblies ----------------------------------------------------------------------------------


def entered(
    line: syntax.PlaceLine, scope: Scope, room: Room, run: Run
) -> tuple[Pattern, Frame] | None:
    """The assembly that a line puts down and the frame to build it in; None when it cannot be, or
    need not be because only mistakes are looked for."""
    named = label(line.name, scope, run)
    pattern = _pattern(line.assembly, scope, run)
    moves = _moves(line, scope, run)
    if pattern is None:
        for argument in line.arguments:
            evaluate(argument.value, scope, run)
    else:
        values = calls.arguments(pattern.written, pattern.scope, line, scope, run)
        if not run.may_call(pattern.written, line.assembly.place):
            _take(named, UNKNOWN, room, run)
            return None
        if moves is not None and not run.rehearsing and not named.is_unsure:
            full = room.frame.prefix + named.text
            frame = _frame(pattern, values, full, moves + room.frame.moves)
            put_down = Placed(full, frame.members, frame.scope.may_declare)
            if not _take(named, put_down, room, run):
                return None
            run.entered.add(pattern.written.place)
            return pattern, frame
    _take(named, UNKNOWN, room, run)
    return None


def unknown_frame(pattern: Pattern, run: Run) -> Frame:
    """A frame for an assembly that nothing puts down, its parameters not known."""
    values: dict[str, Binding] = {}
    for parameter in pattern.written.parameters:
        calls.kind_named(parameter, run)
        values[parameter.name.text] = Binding(UNKNOWN, parameter.name.place)
    return _frame(pattern, values, pattern.written.name.text, ())


def _frame(
    pattern: Pattern, values: dict[str, Binding], name: str, moves: tuple[Move, ...]
) -> Frame:
    inner = Scope(parent=pattern.scope, statements=pattern.written.body, values=values)
    return Frame(prefix=f"{name}.", moves=moves, scope=inner)


def _pattern(name: syntax.Ident, scope: Scope, run: Run) -> Pattern | None:
    pattern = scope.pattern(name.text)
    if pattern is None and not scope.may_declare(name.text):
        known = dict.fromkeys(word for around in scope.outwards() for word in around.patterns)
        near = nearest(name.text, known)
        run.report_missing(UnknownAssembly(place=name.place, name=name.text, nearest=near))
    return pattern


# ---- names of pieces -----------------------------------------------------------------------------


def _take(named: Label, value: Value, room: Room, run: Run) -> bool:
    """Give a piece its name in its frame; False, with a finding, when the name is taken."""
    names, word = room.frame.scope.values, named.base.text
    earlier = names.get(word)
    if named.key is None and not named.is_unsure:
        if earlier is not None:
            return _twice(named, earlier.place, room, run)
        names[word] = Binding(value, named.base.place)
        room.frame.members[word] = value
        return True
    if earlier is None:
        group = Group(word)
        names[word] = Binding(group, named.base.place)
        room.frame.members[word] = group
    elif isinstance(earlier.value, Group):
        group = earlier.value
    else:
        return earlier.value is not UNKNOWN and _twice(named, earlier.place, room, run)
    if named.key is None:
        group.unsure = True
        return False
    if named.key in group.items:
        return _twice(named, group.places[named.key], room, run)
    group.items[named.key] = value
    group.places[named.key] = named.place
    return True


def _twice(named: Label, other: Place, room: Room, run: Run) -> bool:
    if run.rehearsing:
        return False
    if room.turn_of is not None and other in (named.place, named.base.place):
        run.report(NeedsIndex(place=named.place, name=named.text, variable=room.turn_of))
    else:
        run.report(DeclaredTwice(place=named.place, name=named.text, other=other))
    return False
