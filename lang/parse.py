"""What does a text say? From text to the tree of `syntax.py`.

`statements.py` cuts the text into statements and blocks; each statement is read by an LALR parser
made from `grammar.lark`, which calls `build.py` for every rule. A statement that cannot be read
becomes one finding (`slips.py` finds out which) and stands in the tree as `Broken`; the others do
not notice. Nothing of the parser's own leaves this module, and no text makes it raise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, is_dataclass, replace
from functools import lru_cache
from pkgutil import get_data
from typing import TYPE_CHECKING, Any

from ..kernel.finding import Finding, Outcome, Place, in_order
from .blocks import Piece
from .build import Build
from .findings import (
    BadNumber,
    CurvedQuotes,
    FileTooLarge,
    NestedTooDeep,
    OtherComment,
    OtherSign,
    SpansAmiss,
    TooManyMistakes,
    UnitApart,
)
from .limits import DEFAULT, Limits
from .source import Source
from .statements import split
from .syntax import (
    Assembly,
    BoardLine,
    Broken,
    CutLine,
    For,
    Ident,
    If,
    Index,
    JoinLine,
    Name,
    PlaceLine,
    Program,
    Stmt,
    TestBlock,
)
from .tokens import Fault, Token

if TYPE_CHECKING:
    from lark import Lark


def parse(source: Source, limits: Limits = DEFAULT) -> Outcome[Program]:
    """The tree of what was understood, and a finding for each slip; there always is a tree."""
    size = len(source.text)
    if size > limits.file_size:
        large = FileTooLarge(place=source.place(0, 0), size=size, most=limits.file_size)
        return Outcome(Program(source.name, (), ()), (large,))
    pieces = split(source, limits)
    reader = _Reader(source, limits)
    statements = reader.statements(pieces.top)
    stops = () if reader.has_stopped else pieces.stops
    program = Program(source.name, statements, pieces.comments)
    return Outcome(program, in_order((*reader.findings, *stops)))


class _Reader:
    """Reads the pieces of one text; gathers the findings."""

    def __init__(self, source: Source, limits: Limits) -> None:
        self.source = source
        self.limits = limits
        self.findings: list[Finding] = []
        self.has_stopped = False
        self.told: set[str] = set()  # reserved words already found used as names

    def statements(self, pieces: Sequence[Piece]) -> tuple[Stmt, ...]:
        read: list[Stmt] = []
        for piece in pieces:
            if self.has_stopped:
                break
            read += self.statement(piece)
        return tuple(read)

    def statement(self, piece: Piece) -> list[Stmt]:
        """The record of a piece; none for a mere slip, several for those that share a line."""
        for fault in piece.faults:
            self.find(fault.finding)
        is_fatal = any(fault.is_fatal for fault in piece.faults)
        record, rest = (None, ()) if is_fatal else self.record(piece)
        read: list[Stmt] = []
        body = self.statements(piece.body or ())
        otherwise = self.statements(piece.otherwise or ())
        if record is None:
            read += [_broken(piece, (*body, *otherwise))] if piece.tokens else []
        else:
            read.append(_with_body(record, body, otherwise, piece))
        if rest:
            read += self.statement(Piece(tokens=list(rest), end=rest[-1].end))
        return read

    def record(self, piece: Piece) -> tuple[Stmt | None, Sequence[Token]]:
        """The record of the piece's own line, None when it cannot be read; and the tokens of a
        second statement on that line."""
        if not piece.tokens:
            return None, ()
        is_clear = _leave_no_doubt(piece.faults)
        record, rest = _read(piece.tokens), tuple[Token, ...]()
        if record is None:
            from .slips import mend  # which texts without a slip do not need

            mended = mend(_Reading, piece.tokens, self.told)
            record, rest = mended.record, mended.rest
            for finding in mended.findings if is_clear else ():
                self.find(finding)
            is_clear = is_clear and not mended.findings
        amiss = None if record is None else self.amiss(record, piece)
        if amiss is not None:
            record = None
            if is_clear:
                self.find(amiss)
        return record, rest

    def amiss(self, record: Stmt, piece: Piece) -> Finding | None:
        """What is wrong with a statement that the grammar lets pass."""
        if len(piece.tokens) > self.limits.depth and _height(record) > self.limits.depth:
            place = replace(record.place, end=piece.tokens[0].end)
            return NestedTooDeep(place=place, most=self.limits.depth)
        return _spans_amiss(record) if isinstance(record, BoardLine) else None

    def find(self, finding: Finding) -> None:
        if self.has_stopped:
            return
        if len(self.findings) + 1 >= self.limits.mistakes:
            self.has_stopped = True
            finding = TooManyMistakes(place=finding.place, most=self.limits.mistakes)
        self.findings.append(finding)


# ---- one statement -------------------------------------------------------------------------------


@lru_cache(maxsize=1)
def _parser() -> Lark:
    """The parser of the rule `line`: made once, it takes some 60 ms with its import."""
    from lark import Lark  # here, so that nothing else waits for it
    from lark.lexer import Lexer

    class NoLexer(Lexer):
        """Tokens are fed one by one; there is nothing left to do."""

        def __init__(self, conf: Any) -> None: ...

        def lex(self, lexer_state: Any, parser_state: Any) -> Any:
            return iter(())

    grammar = (get_data(__package__ or "", "grammar.lark") or b"").decode("utf-8")
    builder: Any = Build()  # the parser asks no more of a transformer than a method a rule
    return Lark(
        grammar,
        start="line",
        parser="lalr",
        lexer=NoLexer,
        transformer=builder,
        keep_all_tokens=True,
        maybe_placeholders=False,
    )


class _Reading:
    """A statement read so far, token by token."""

    __slots__ = ("parser",)

    def __init__(self, parser: Any = None) -> None:
        self.parser = parser or _parser().parse_interactive()  # whose own types are incomplete

    def feed(self, token: Token) -> bool:
        """Whether the token can follow; once one cannot, the reading is of no more use."""
        from lark.exceptions import UnexpectedToken

        if token.type == "XYZ":
            token = token.meant(token.text, _kind_here(token, self.parser))
        taken: Any = token  # the parser looks at nothing but its type
        try:
            self.parser.feed_token(taken)
        except UnexpectedToken:
            return False
        return True

    def finish(self) -> Stmt | None:
        """The record, if the statement may end here."""
        from lark.exceptions import UnexpectedToken

        end: Any = _END
        try:
            record: Stmt = self.parser.feed_token(end)
        except UnexpectedToken:
            return None
        return record

    def expected(self) -> frozenset[str]:
        """The kinds of token that can follow, `$END` among them."""
        return frozenset(self.parser.accepts())

    def fork(self) -> _Reading:
        return _Reading(self.parser.copy(deepcopy_values=False))


_END = Token("$END", "", "", 0, 0)


def _kind_here(token: Token, parser: Any) -> str:
    """What x, y, z or `by` is at this point."""
    kind = "BY" if token.text == "by" else "AXIS"
    return kind if kind in parser.choices() else "NAME"


def _read(tokens: Sequence[Token]) -> Stmt | None:
    """The record of a statement, None when it cannot be read."""
    from lark.exceptions import UnexpectedToken

    parser: Any = _parser().parse_interactive()
    feed = parser.feed_token
    try:
        for token in tokens:
            is_open = token.type == "XYZ"
            feed(token.meant(token.text, _kind_here(token, parser)) if is_open else token)
        record: Stmt = feed(_END)
    except UnexpectedToken:
        return None
    return record


def _leave_no_doubt(faults: Sequence[Fault]) -> bool:
    """Whether what was wrong among the tokens has been put right, so that what is still wrong is
    another slip and not the same one again."""
    return all(isinstance(fault.finding, _PUT_RIGHT) for fault in faults)


_PUT_RIGHT = (BadNumber, CurvedQuotes, OtherComment, OtherSign, UnitApart)


# ---- what becomes of a statement -----------------------------------------------------------------


def _with_body(
    head: Stmt, body: tuple[Stmt, ...], otherwise: tuple[Stmt, ...], piece: Piece
) -> Stmt:
    """The head of a block with what stands in its braces."""
    place = replace(head.place, end=max(piece.end, head.place.end))
    match head:
        case If():
            or_else = piece.or_else.place if piece.or_else else None
            return replace(head, yes=body, no=otherwise, place=place, else_place=or_else)
        case For() | Assembly() | TestBlock():
            return replace(head, body=body, place=place)
        case _:
            return head


_NAMES = ("NAME", "XYZ")
_NAMELESS = ("JOIN", "CUT", "TRAVEL", "SWING", "EXPECT", "DESIGN", "USE", "TEST", "FOR", "IF")
"""Statements whose second word declares no name."""


def _broken(piece: Piece, inner: tuple[Stmt, ...]) -> Broken:
    """What is left of a statement that could not be read: the names it seems to declare."""
    first, last = piece.tokens[0], piece.tokens[-1]
    words = [token for token in piece.tokens[1:2] if token.type in _NAMES]
    if first.type in _NAMELESS:
        words = []
    if first.type in _NAMES and len(piece.tokens) > 1 and piece.tokens[1].type == "EQUAL":
        words = [first]
    pairs = zip(piece.tokens, piece.tokens[1:], strict=False)
    words += [word for before, word in pairs if before.type == "AS" and word.type in _NAMES]
    names = [Ident(word.text, word.place) for word in words]
    if first.type not in ("ASSEMBLY", "TEST"):
        names += [name for statement in inner for name in _declared(statement)]
    place = Place(first.file, first.start, max(piece.end, last.end))
    return Broken(Ident(first.text, first.place), tuple(names), place)


def _declared(statement: Stmt) -> tuple[Ident, ...]:
    """The names that a statement declares where it stands."""
    match statement:
        case Broken():
            return statement.names
        case For():
            return tuple(name for inner in statement.body for name in _declared(inner))
        case If():
            inside = (*statement.yes, *statement.no)
            return tuple(name for inner in inside for name in _declared(inner))
        case BoardLine() | PlaceLine():
            return _label_names(statement.name)
        case JoinLine() | CutLine():
            return () if statement.alias is None else _label_names(statement.alias)
        case _:
            name = getattr(statement, "name", None)
            return (name,) if isinstance(name, Ident) else ()


def _label_names(label: object) -> tuple[Ident, ...]:
    base = label.of if isinstance(label, Index) else label
    return (Ident(base.text, base.place),) if isinstance(base, Name) else ()


def _spans_amiss(board: BoardLine) -> Finding | None:
    """What is wrong with a board's spans, None when there is one along each axis."""
    axes = [span.axis.text for span in board.spans]
    missing = tuple(axis for axis in "xyz" if axis not in axes)
    twice = tuple(axis for axis in "xyz" if axes.count(axis) > 1)
    if not missing and not twice:
        return None
    (name,) = _label_names(board.name)
    repeated = [span for at, span in enumerate(board.spans) if span.axis.text in axes[:at]]
    place = repeated[0].place if repeated else name.place
    return SpansAmiss(place=place, board=name.text, missing=missing, twice=twice)


def _height(record: object) -> int:
    """How many records stand one inside the other, counted without recursion."""
    highest, waiting = 0, [(record, 1)]
    while waiting:
        node, depth = waiting.pop()
        if isinstance(node, tuple):
            waiting += [(member, depth) for member in node]
        elif is_dataclass(node) and not isinstance(node, (Place, Ident, type)):
            highest = max(highest, depth)
            waiting += [(getattr(node, part.name), depth + 1) for part in fields(node)]
    return highest
