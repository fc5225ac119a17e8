"""Where may a statement stand, and what becomes of one that stands elsewhere?

Params, used files, the title and tests stand at the top of a file; stock, bits and machines there
too, or under an `if` there: they belong to the whole design, however often an assembly is put down.
"""

from __future__ import annotations

from typing import Final

from ..kernel.finding import Place
from . import syntax
from .name_findings import Misplaced, Where
from .names import Binding, Scope, base_name
from .run import Room, Run
from .values import UNKNOWN

_KEYWORDS: Final[dict[type, str]] = {
    syntax.DesignTitle: "design",
    syntax.Use: "use",
    syntax.Param: "param",
    syntax.TestBlock: "test",
    syntax.BoardLine: "board",
    syntax.JoinLine: "join",
    syntax.CutLine: "cut",
    syntax.PlaceLine: "place",
    syntax.Expect: "expect",
}
"""The statements that may not stand everywhere; those that begin with several bring their own."""

_DECLARING: Final = frozenset(
    ("param", "let", "fn", "stock", "bit", "machine", "board", "place", "assembly")
)
_STARTS: Final = _DECLARING | frozenset(
    ("design", "use", "join", "cut", "travel", "swing", "for", "if", "test", "expect")
)

_TOP: Final = (syntax.DesignTitle, syntax.Use, syntax.Param, syntax.TestBlock)
_PIECES: Final = (
    syntax.BoardLine,
    syntax.JoinLine,
    syntax.CutLine,
    syntax.PlaceLine,
    syntax.MotionLine,
)


def belongs(statement: syntax.Stmt, room: Room, run: Run) -> bool:
    """Whether a statement may stand in `room`; False, with a finding, when it may not."""
    where = _amiss(statement, room)
    if where is None:
        return True
    if isinstance(statement, syntax.Declaration | syntax.MotionLine):
        keyword = statement.keyword.text
    else:
        keyword = _KEYWORDS[type(statement)]
    place = statement.place
    word = Place(place.file, place.start, place.start + len(keyword))
    run.report(Misplaced(place=word, keyword=keyword, where=where))
    return False


def _amiss(statement: syntax.Stmt, room: Room) -> Where | None:
    """What a statement may not stand in, though it does; None when all is well."""
    if isinstance(statement, syntax.Expect):
        return None if room.where is Where.TEST else room.where
    if isinstance(statement, _PIECES):
        return room.where if room.where in (Where.TEST, Where.USED) else None
    if not isinstance(statement, (*_TOP, syntax.Declaration)):
        return None
    if room.where in (Where.TEST, Where.ASSEMBLY):
        return room.where
    if room.turn_of is not None:
        return Where.LOOP
    return Where.BRANCH if room.branch and isinstance(statement, _TOP) else None


def without(statement: syntax.Stmt, scope: Scope, room: Room, run: Run) -> None:
    """Leave a statement out: what it declares is not known, and no more is said of it."""
    match statement:
        case syntax.Broken():
            _broken(statement, scope, room, run)
        case syntax.Use():
            scope.is_open = True
        case syntax.Param() | syntax.Let():
            unknown(statement.name, scope, room, is_piece=False)
        case syntax.Declaration():
            unknown(statement.name, scope, room, is_piece=False)
            run.bits_unsure = run.bits_unsure or statement.keyword.text == "bit"
        case syntax.BoardLine() | syntax.PlaceLine():
            name = base_name(statement.name)
            unknown(syntax.Ident(name.text, name.place), scope, room, is_piece=True)
        case syntax.Fn() | syntax.Assembly():
            scope.garbled.add(statement.name.text)
        case _:
            return


def _broken(statement: syntax.Broken, scope: Scope, room: Room, run: Run) -> None:
    """Of a line that was not understood only the names it seems to declare are known; where it must
    declare one and shows none, any name may be it."""
    keyword = statement.keyword.text
    if keyword in ("use", "") or (keyword in _DECLARING and not statement.names):
        scope.is_open = True
    elif keyword not in _STARTS:
        scope.garbled.add(keyword)  # `beech { … }`: the word before it may be what is missing
    run.bits_unsure = run.bits_unsure or keyword == "bit"
    for name in statement.names:
        if keyword in ("fn", "assembly"):
            scope.garbled.add(name.text)
        else:
            unknown(name, scope, room, is_piece=keyword in ("board", "place"))


def unknown(name: syntax.Ident, scope: Scope, room: Room, *, is_piece: bool) -> None:
    """Let a name be declared, its value not known; that of a board belongs to the whole piece."""
    home = room.frame.scope if is_piece else scope
    home.values.setdefault(name.text, Binding(UNKNOWN, name.place))
    if is_piece:
        room.frame.members.setdefault(name.text, UNKNOWN)
