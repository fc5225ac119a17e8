"""What do the statements of a design do? They are gone through once, from top to bottom.

Values go into scopes, boards and what is placed into the frame of the piece they belong to, joins
and tests into the `Run` for later: they may name boards that are declared further down. Functions
and assemblies are known in the whole block that declares them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from typing import TypeVar, assert_never

from ..kernel.quantity import COUNT, Quantity
from . import calls, params, pieces, syntax
from .arithmetic import truth, whole, wrong_kind
from .builtins import FUNCTIONS
from .declare import declaration
from .doubt import is_doubtful
from .evaluate import evaluate
from .measures import IN_TESTS_ONLY
from .name_findings import DeclaredTwice, NameTaken, Where
from .names import Binding, Function, Pattern, Scope
from .rooms import belongs, without
from .run import CutToDo, JoinToDo, MotionToDo, Room, Run, TestToDo
from .value_findings import TooManyTurns
from .values import UNKNOWN, Group, Items, Kind, Stretch, Value

Lent = TypeVar("Lent", Binding, Function, Pattern)


def perform(statements: tuple[syntax.Stmt, ...], scope: Scope, room: Room, run: Run) -> None:
    """Do each statement in turn, in `scope`."""
    if not statements:
        return
    if run.enter(statements[0].place):
        _callables(statements, scope, run)
        for statement in statements:
            if run.spent:
                break
            _perform(statement, scope, room, run)
    run.depth -= 1


def rehearse(statements: tuple[syntax.Stmt, ...], scope: Scope, room: Room, run: Run) -> None:
    """Go through statements for the mistakes in them alone: whether, how often or with what they
    are to be done is not known."""
    run.rehearsing += 1
    perform(statements, scope, room, run)
    run.rehearsing -= 1


def rehearse_uncalled(run: Run) -> None:
    """Go through the functions and assemblies that nothing called, with values not known."""
    while True:
        patterns = [p for place, p in run.patterns.items() if place not in run.entered]
        functions = [f for place, f in run.functions.items() if place not in run.entered]
        if not patterns and not functions:
            return
        run.entered.update(p.written.place for p in patterns)
        run.entered.update(f.written.place for f in functions)
        for pattern in patterns:
            frame = pieces.unknown_frame(pattern, run)
            room = Room(where=Where.ASSEMBLY, frame=frame)
            rehearse(pattern.written.body, frame.scope, room, run)
        for function in functions:
            calls.rehearse(function, run)


def _perform(statement: syntax.Stmt, scope: Scope, room: Room, run: Run) -> None:
    if is_doubtful(statement, run) or not belongs(statement, room, run):
        _pass_over(statement, scope, room, run)
        return
    match statement:
        case syntax.BoardLine():
            pieces.board(statement, scope, room, run)
        case syntax.Let():
            value = evaluate(statement.value, scope, run)
            params.declare(statement.name, value, scope, run)
        case syntax.JoinLine():
            run.joins.append(_join(statement, scope, room, run))
        case syntax.CutLine():
            run.cuts.append(_cut(statement, scope, room, run))
        case syntax.MotionLine():
            rehearsed = run.rehearsing > 0
            run.motions.append(
                MotionToDo(line=statement, scope=scope, frame=room.frame, rehearsed=rehearsed)
            )
        case syntax.For():
            _loop(statement, scope, room, run)
        case syntax.If():
            _branch(statement, scope, room, run)
        case syntax.PlaceLine():
            _put_down(statement, scope, room, run)
        case syntax.Param():
            params.param(statement, scope, room, run)
        case syntax.Declaration():
            declaration(statement, scope, run)
        case syntax.TestBlock():
            if room.where is not Where.USED:
                run.tests.append(TestToDo(statement, scope))
        case syntax.DesignTitle():
            _title(statement, room, run)
        case syntax.Use():
            _use(statement, scope, run)
        case syntax.Broken():
            without(statement, scope, room, run)
        case syntax.Expect():
            if room.expectations is not None:
                room.expectations.append((statement, scope))
        case syntax.Fn() | syntax.Assembly():
            return  # known already
        case _:
            assert_never(statement)


def _pass_over(statement: syntax.Stmt, scope: Scope, room: Room, run: Run) -> None:
    """Leave a statement out, but for what is wrong inside its block."""
    match statement:
        case syntax.For():
            turn = _turn(statement, UNKNOWN, scope)
            rehearse(statement.body, turn, replace(room, turn_of=statement.variable.text), run)
        case syntax.If():
            _rehearse_branches(statement, scope, replace(room, branch=True), run)
        case _:
            without(statement, scope, room, run)


def _join(statement: syntax.JoinLine, scope: Scope, room: Room, run: Run) -> JoinToDo:
    return JoinToDo(
        line=statement,
        scope=scope,
        frame=room.frame,
        turn_of=room.turn_of,
        rehearsed=run.rehearsing > 0,
    )


def _cut(statement: syntax.CutLine, scope: Scope, room: Room, run: Run) -> CutToDo:
    return CutToDo(
        line=statement,
        scope=scope,
        frame=room.frame,
        turn_of=room.turn_of,
        rehearsed=run.rehearsing > 0,
    )


def _title(statement: syntax.DesignTitle, room: Room, run: Run) -> None:
    if room.where is Where.USED:
        return
    if run.title is None:
        run.title = statement
    else:
        run.report(DeclaredTwice(place=statement.place, name="design", other=run.title.place))


# ---- names ---------------------------------------------------------------------------------------


def _callables(statements: tuple[syntax.Stmt, ...], scope: Scope, run: Run) -> None:
    """Make the functions and assemblies of a block known."""
    for statement in statements:
        if is_doubtful(statement, run):
            continue
        if isinstance(statement, syntax.Fn):
            name = statement.name
            if name.text in FUNCTIONS or name.text in IN_TESTS_ONLY:
                run.report(NameTaken(place=name.place, name=name.text))
                scope.garbled.add(name.text)
                continue
            function = Function(statement, scope)
            _parameters(statement, run)
            _call(function, name, scope.functions, run)
            run.functions.setdefault(statement.place, function)
        elif isinstance(statement, syntax.Assembly):
            pattern = Pattern(statement, scope)
            _parameters(statement, run)
            _call(pattern, statement.name, scope.patterns, run)
            run.patterns.setdefault(statement.place, pattern)


def _parameters(statement: syntax.Fn | syntax.Assembly, run: Run) -> None:
    """Parameters are told apart by their names."""
    seen: dict[str, syntax.Ident] = {}
    for parameter in statement.parameters:
        name = parameter.name
        earlier = seen.setdefault(name.text, name)
        if earlier is not name:
            run.report(DeclaredTwice(place=name.place, name=name.text, other=earlier.place))


def _call(what: Lent, name: syntax.Ident, known: dict[str, Lent], run: Run) -> None:
    earlier = known.setdefault(name.text, what)
    if earlier is not what:
        run.report(DeclaredTwice(place=name.place, name=name.text, other=earlier.place))


def _use(statement: syntax.Use, scope: Scope, run: Run) -> None:
    """Lay the names of another file under those of this one, which hide them."""
    under = scope.parent
    used = run.use(statement)
    if under is None or used is None:
        scope.is_open = True
        return
    scope.is_open = scope.is_open or used.is_open
    under.garbled |= used.garbled
    clashes = [
        *((name, used.values[name].place) for name in _lend(used.values, under.values)),
        *((name, used.functions[name].place) for name in _lend(used.functions, under.functions)),
        *((name, used.patterns[name].place) for name in _lend(used.patterns, under.patterns)),
    ]
    for name, other in clashes:
        if name in used.values and used.values[name].value is UNKNOWN:
            continue  # told where it is declared
        run.report(DeclaredTwice(place=statement.place, name=name, other=other))


def _lend(used: dict[str, Lent], under: dict[str, Lent]) -> list[str]:
    """Make the names of a used file known; the names that another used file has lent already."""
    return [name for name, what in used.items() if under.setdefault(name, what) is not what]


# ---- blocks --------------------------------------------------------------------------------------


def _loop(statement: syntax.For, scope: Scope, room: Room, run: Run) -> None:
    inside = replace(room, turn_of=statement.variable.text, branch=False)
    values = _turns(statement, evaluate(statement.over, scope, run), run)
    if values is None:
        rehearse(statement.body, _turn(statement, UNKNOWN, scope), inside, run)
        return
    for value in values:
        perform(statement.body, _turn(statement, value, scope), inside, run)
        if run.spent:
            return


def _turn(statement: syntax.For, value: Value, scope: Scope) -> Scope:
    """The scope of one turn of a loop."""
    values = {statement.variable.text: Binding(value, statement.variable.place)}
    return Scope(parent=scope, statements=statement.body, values=values)


def _turns(statement: syntax.For, over: Value, run: Run) -> Iterable[Value] | None:
    """The values a loop goes through; None when they are not known."""
    place = statement.over.place
    values: Iterable[Value]
    match over:
        case Stretch(lo, hi):
            first, last = whole(lo, place, run), whole(hi, place, run)
            if first is None or last is None:
                return None
            count = max(0, last - first + 1)
            values = (Quantity(Fraction(n), COUNT) for n in range(first, last + 1))
        case Items(items):
            count, values = len(items), items
        case Group(items=members):
            count, values = len(members), tuple(members[key] for key in sorted(members))
        case _:
            if over is not UNKNOWN:
                run.report(wrong_kind(over, (Kind.RANGE, Kind.LIST), place))
            return None
    limit = run.limits.loop_rounds
    if run.rounds + count > limit:
        run.report(TooManyTurns(place=place, turns=run.rounds + count, limit=limit))
        return None
    run.rounds += count
    return values


def _branch(statement: syntax.If, scope: Scope, room: Room, run: Run) -> None:
    condition = evaluate(statement.condition, scope, run)
    chosen = truth(condition, statement.condition.place, run)
    inside = replace(room, branch=True)
    if chosen is UNKNOWN:
        _rehearse_branches(statement, scope, inside, run)
        return
    branch = statement.yes if chosen else statement.no
    perform(branch, Scope(parent=scope, statements=branch), inside, run)


def _rehearse_branches(statement: syntax.If, scope: Scope, inside: Room, run: Run) -> None:
    for branch in (statement.yes, statement.no):
        rehearse(branch, Scope(parent=scope, statements=branch), inside, run)


def _put_down(statement: syntax.PlaceLine, scope: Scope, room: Room, run: Run) -> None:
    entered = pieces.entered(statement, scope, room, run)
    if entered is None:
        return
    pattern, frame = entered
    run.calls += 1
    perform(pattern.written.body, frame.scope, Room(where=Where.ASSEMBLY, frame=frame), run)
    run.calls -= 1
