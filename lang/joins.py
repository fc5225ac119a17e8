"""Which boards does a `join` line join, and with which options?

Lines are resolved once every board is known. A bare word among the options stands for a visible
value of that name where it is one that an option can hold, and for itself otherwise: which words
and options a family knows is the kernel's business.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final, TypeAlias

from ..kernel.cutter import Bit
from ..kernel.design import BoardRef, Join, Option, OptionValue, Several, Verb, Word
from ..kernel.quantity import Quantity
from ..kernel.stock import Stock
from . import syntax
from .arithmetic import MEASURES, wrong_kind
from .evaluate import evaluate
from .name_findings import DeclaredTwice, NeedsIndex
from .names import Scope
from .pieces import label
from .run import CutToDo, JoinToDo, Run
from .value_findings import TooManyItems
from .values import UNKNOWN, BoardValue, Group, Items, Kind, Value

JOINED: Final = (Kind.BOARD,)


def joined(todo: JoinToDo, taken: dict[str, None], run: Run) -> Join | None:
    """The join of one line; None, with findings, when a part of it is not understood. `taken` are
    the names of the joins so far, to which its own is added."""
    line, scope = todo.line, todo.scope
    first, second = boards_named(line.first, scope, run), boards_named(line.second, scope, run)
    options = [option(written, scope, run, option_value) for written in line.options]
    local = name_given(todo, _in_words(todo, first or (), second or ()), run)
    if first is None or second is None or local is None or None in options or todo.rehearsed:
        return None
    return Join(
        name=unique(todo.frame.prefix + local, taken),
        family=line.family.text,
        verb=Verb(line.verb.text),
        first=first,
        second=second,
        options=tuple(each for each in options if each is not None),
        place=line.place,
        family_place=line.family.place,
    )


def boards_named(
    written: tuple[syntax.Expr, ...], scope: Scope, run: Run
) -> tuple[BoardRef, ...] | None:
    """The boards that a list of names stands for: an indexed name without its index, and a list,
    stand for all of theirs. None when one of them is not known."""
    found: list[BoardRef] = []
    known = True
    limit = run.limits.loop_rounds
    for expr in written:
        for value in flat(evaluate(expr, scope, run)):
            if len(found) >= limit:
                run.report(TooManyItems(place=expr.place, limit=limit))
                return None
            if isinstance(value, BoardValue):
                found.append(BoardRef(value.board.name, expr.place))
            elif value is UNKNOWN:
                known = False
            else:
                known = False
                run.report(wrong_kind(value, JOINED, expr.place))
    return tuple(found) if known else None


def flat(value: Value) -> Iterator[Value]:
    """What a value stands for one by one: a list and an indexed name for each of theirs."""
    match value:
        case Items(items):
            for item in items:
                yield from flat(item)
        case Group(items=members, unsure=unsure):
            for key in sorted(members):
                yield from flat(members[key])
            if unsure:
                yield UNKNOWN
        case _:
            yield value


# ---- options -------------------------------------------------------------------------------------


Reader: TypeAlias = Callable[[syntax.Expr, Scope, Run], OptionValue | None]


def option(written: syntax.Property, scope: Scope, run: Run, reader: Reader) -> Option | None:
    """An option with what `reader` makes of its items; None where one of them is not known."""
    values = [reader(item, scope, run) for item in written.items]
    known = tuple(value for value in values if value is not None)
    if len(known) < len(values):
        return None
    return Option(
        name=written.word.text,
        values=known,
        place=written.word.place,
        value_places=tuple(item.place for item in written.items),
    )


def option_value(item: syntax.Expr, scope: Scope, run: Run) -> OptionValue | None:
    """What one item stands for; None, with a finding, for what no option can hold."""
    if isinstance(item, syntax.Name):
        binding = scope.value(item.text)
        if binding is None:
            return Word(item.text, item.place)
        value = binding.value
        if not isinstance(value, Quantity | Bit | Stock | Items) and value is not UNKNOWN:
            return Word(item.text, item.place)
    else:
        value = evaluate(item, scope, run)
    match value:
        case Quantity():
            return value
        case Bit(name=word) | Stock(name=word):
            return Word(word, item.place)
        case str():
            return Word(value, item.place)
        case Items(items):
            return _several(items, item, run)
        case _:
            if value is not UNKNOWN:
                run.report(wrong_kind(value, (*MEASURES, Kind.BIT), item.place))
            return None


def _several(items: tuple[Value, ...], written: syntax.Expr, run: Run) -> Several | None:
    figures: list[Quantity] = []
    for value in items:
        if isinstance(value, Quantity):
            figures.append(value)
        elif value is not UNKNOWN:
            run.report(wrong_kind(value, MEASURES, written.place))
    return Several(tuple(figures), written.place) if len(figures) == len(items) else None


# ---- names ---------------------------------------------------------------------------------------


def _in_words(todo: JoinToDo, first: tuple[BoardRef, ...], second: tuple[BoardRef, ...]) -> str:
    """The line in words."""
    left, right = listed(todo, first), listed(todo, second)
    return f"{left} {todo.line.verb.text} {right} with {todo.line.family.text}"


def listed(todo: JoinToDo | CutToDo, boards: tuple[BoardRef, ...]) -> str:
    """The boards in words, without the prefix of their frame."""
    return ", ".join(ref.name.removeprefix(todo.frame.prefix) for ref in boards)


def name_given(todo: JoinToDo | CutToDo, in_words: str, run: Run) -> str | None:
    """The name given with `as`, else the line in words; without the prefix of its frame."""
    alias = todo.line.alias
    if alias is None:
        return in_words
    named = label(alias, todo.scope, run)
    if named.is_unsure or todo.rehearsed:
        return None
    earlier = todo.frame.joins.get(named.text)
    if earlier is None:
        todo.frame.joins[named.text] = named.place
        return named.text
    if earlier == named.place and todo.turn_of is not None:
        run.report(NeedsIndex(place=named.place, name=named.text, variable=todo.turn_of))
    else:
        run.report(DeclaredTwice(place=named.place, name=named.text, other=earlier))
    return None


def unique(name: str, taken: dict[str, None]) -> str:
    """The name, or the name with the first number that makes it the only one."""
    count, unique = 1, name
    while unique in taken:
        count += 1
        unique = f"{name} ({count})"
    taken[unique] = None
    return unique
