"""What moves, and how far? The lines about use: `travel` and `swing`.

They are resolved once every board is known. An assembly put down stands for all its boards, and
coordinates and directions are those of the piece that the line stands in.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from ..kernel.board import Axis, Point
from ..kernel.design import BoardRef, Motion, Swing, Travel
from ..kernel.quantity import ANGLE, LENGTH, Quantity
from . import syntax
from .arithmetic import length, wrong_kind
from .evaluate import evaluate
from .joins import flat
from .names import Scope
from .pieces import AXES, point
from .run import MotionToDo, Run
from .units import in_dimension
from .value_findings import NotPositive
from .values import UNKNOWN, BoardValue, Group, Kind, Placed, Value

MOVABLE: Final = (Kind.BOARD, Kind.PLACED)


def moved(todo: MotionToDo, run: Run) -> Motion | None:
    """The motion of one line; None, with findings, when a part of it is not understood."""
    line, scope = todo.line, todo.scope
    moving = [_moving(part, scope, run) for part in line.moving]
    known = [one for one in moving if one is not None]
    name = ", ".join(what for what, _ in known)
    boards = {ref.name: ref for _, refs in known for ref in refs}
    make = _travel if line.keyword.text == "travel" else _swing
    made = make(todo, name, tuple(boards.values()), run)
    return None if todo.rehearsed or len(known) < len(moving) else made


def _travel(todo: MotionToDo, name: str, boards: tuple[BoardRef, ...], run: Run) -> Motion | None:
    line = todo.line
    along = _along(line.way, todo.scope, run)
    distance = length(evaluate(line.amount, todo.scope, run), line.amount.place, run)
    if distance is not None and distance <= 0:
        figure = Quantity(distance, LENGTH)
        run.report(NotPositive(place=line.amount.place, word="for", figure=figure))
        return None
    if along is None or distance is None:
        return None
    return Travel(
        name=name,
        boards=boards,
        along=along,
        distance=distance,
        pose=todo.frame.moves,
        place=line.place,
    )


def _along(
    along: syntax.Heading | tuple[syntax.Coordinate, ...], scope: Scope, run: Run
) -> Point | None:
    """The way, so far along each axis; None, with a finding, when it leads nowhere."""
    if isinstance(along, syntax.Heading):
        step = Fraction(-1 if along.is_back else 1)
        x, y, z = (step if axis is AXES[along.axis.text] else Fraction(0) for axis in Axis)
        return x, y, z
    way = point(along, scope, run)
    if way is not None and not any(way):
        nowhere = Quantity(Fraction(0), LENGTH)
        run.report(NotPositive(place=along[0].place, word="along", figure=nowhere))
        return None
    return way


def _swing(todo: MotionToDo, name: str, boards: tuple[BoardRef, ...], run: Run) -> Motion | None:
    line = todo.line
    axes = _along(line.way, todo.scope, run)
    value = evaluate(line.amount, todo.scope, run)
    at = point(line.at, todo.scope, run)
    angle = in_dimension(value, ANGLE) if isinstance(value, Quantity) else None
    if angle is None:
        if value is not UNKNOWN:
            run.report(wrong_kind(value, (Kind.ANGLE,), line.amount.place))
        return None
    if angle.number == 0:
        run.report(NotPositive(place=line.amount.place, word="by", figure=angle))
        return None
    if at is None or axes is None:
        return None
    return Swing(
        name=name,
        boards=boards,
        degrees=angle.number,
        about=Axis(axes.index(1)),
        at=at,
        pose=todo.frame.moves,
        place=line.place,
    )


# ---- what moves ----------------------------------------------------------------------------------


def _moving(
    written: syntax.Expr, scope: Scope, run: Run
) -> tuple[str, tuple[BoardRef, ...]] | None:
    """What moves, by name, and its boards; None when it is not known."""
    found: list[BoardRef] = []
    names: list[str] = []
    for value in flat(evaluate(written, scope, run)):
        if not isinstance(value, BoardValue | Placed):
            if value is not UNKNOWN:
                run.report(wrong_kind(value, MOVABLE, written.place))
            return None
        boards = list(_boards(value))
        if None in boards:
            return None
        found += [BoardRef(name, written.place) for name in boards if name is not None]
        names.append(value.board.name if isinstance(value, BoardValue) else value.name)
    return ", ".join(names), tuple(found)


def _boards(value: Value) -> Iterator[str | None]:
    """The names of all boards of a thing, None for what is not known."""
    match value:
        case BoardValue(board=board):
            yield board.name
        case Placed(members=members):
            for member in members.values():
                yield from _boards(member)
        case Group(items=items, unsure=unsure):
            for key in sorted(items):
                yield from _boards(items[key])
            if unsure:
                yield None
        case _:
            yield None
