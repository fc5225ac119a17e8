"""What is a measure about: which board, assembly, joint or machine does each argument stand for?

Boards, assemblies and machines are values. A joint is none: it is named by the name its line was
given with `as`, `corners` or `drawer[1].sides`, or by the line's own words as a text.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import islice
from typing import Final

from ..kernel.cutter import Machine
from ..kernel.quantity import COUNT, Quantity
from . import syntax
from .arithmetic import wrong_kind
from .evaluate import evaluate
from .joins import flat
from .measures import MEASURES, OF_BOARDS_TOO, MeasureForm, Subject
from .name_findings import MissingArguments, TooManyArguments, UnknownArgument
from .names import Scope
from .run import Run
from .value_findings import NotOneBoard
from .values import UNKNOWN, BoardValue, Kind, Placed

WANTED: Final[Mapping[Subject, tuple[Kind, ...]]] = {
    Subject.BOARD: (Kind.BOARD,),
    Subject.PIECE: (Kind.BOARD, Kind.PLACED),
    Subject.MACHINE: (Kind.MACHINE,),
    Subject.JOINT: (Kind.TEXT,),
}
"""What an argument may be worth. A joint may be a bare name too."""


def form_of(call: syntax.Call) -> MeasureForm:
    """The form of a measure as it is called: one that takes a joint may take its boards."""
    name = call.function.text
    of_boards = OF_BOARDS_TOO.get(name)
    if of_boards is not None and len(call.arguments) == len(of_boards.subjects):
        return of_boards
    return MEASURES[name]


def subjects(
    call: syntax.Call, wanted: tuple[Subject, ...], scope: Scope, run: Run
) -> tuple[str, ...] | None:
    """The full names of what a call is about; None, with findings, when one is not known."""
    name, place = call.function.text, call.function.place
    given = len(call.arguments)
    found = [
        _subject(name, argument, wanted[min(k, len(wanted) - 1)], scope, run)
        for k, argument in enumerate(call.arguments)
    ]
    if given < len(wanted):
        missing = tuple(_word(subject) for subject in wanted[given:])
        run.report(MissingArguments(place=place, callee=name, missing=missing))
    elif given > len(wanted):
        most = len(wanted)
        extra = call.arguments[most].place
        run.report(TooManyArguments(place=extra, callee=name, most=most, given=given))
    known = tuple(each for each in found if each is not None)
    return known if len(known) == given == len(wanted) else None


def _word(subject: Subject) -> str:
    return "board" if subject is Subject.PIECE else subject.value


def _subject(
    name: str, argument: syntax.Argument, wanted: Subject, scope: Scope, run: Run
) -> str | None:
    """The full name of the one thing that an argument stands for."""
    if argument.name is not None:
        word, place = argument.name.text, argument.name.place
        run.report(UnknownArgument(place=place, name=word, callee=name, nearest=None, known=()))
        return None
    if wanted is Subject.JOINT:
        return _joint(argument.value, scope, run)
    return _one(name, argument.value, wanted, scope, run)


def _one(name: str, written: syntax.Expr, wanted: Subject, scope: Scope, run: Run) -> str | None:
    place = written.place
    found = list(islice(flat(evaluate(written, scope, run)), run.limits.loop_rounds))
    if UNKNOWN in found:
        return None
    if len(found) != 1 and wanted is not Subject.MACHINE:
        run.report(NotOneBoard(place=place, measure=name, count=len(found)))
        return None
    match found:
        case [BoardValue(board=board)] if wanted is not Subject.MACHINE:
            return board.name
        case [Placed(name=put_down)] if wanted is Subject.PIECE:
            return put_down
        case [Machine(name=machine)] if wanted is Subject.MACHINE:
            return machine
        case [other, *_]:
            run.report(wrong_kind(other, WANTED[wanted], place))
    return None


def _joint(written: syntax.Expr, scope: Scope, run: Run) -> str | None:
    """`corners`, `drawer[1].sides` or a text: whether there is such a joint is known once the
    boards are cut."""
    match written:
        case syntax.Name(text=text):
            return text
        case syntax.Text(value=text):
            return text
        case syntax.Member(of=of, name=member):
            inner = _joint(of, scope, run)
            return None if inner is None else f"{inner}.{member.text}"
        case syntax.Index(of=of, at=at):
            inner, index = _joint(of, scope, run), evaluate(at, scope, run)
            if isinstance(index, Quantity) and index.dimension == COUNT:
                return None if inner is None else f"{inner}[{index.number}]"
            if index is not UNKNOWN:
                run.report(wrong_kind(index, (Kind.COUNT,), at.place))
            return None
        case _:
            value = evaluate(written, scope, run)
            if value is not UNKNOWN:
                run.report(wrong_kind(value, WANTED[Subject.JOINT], written.place))
            return None
