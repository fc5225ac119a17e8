"""How is a tree written? The canonical text, one statement a line.

What is printed is read back as the same tree, apart from places; printing what was read from a
printed text changes nothing. Comments of their own line stay before the statement they stood
before, a comment behind a statement stays behind it, and further ones inside a statement go before
it. No columns are aligned. A `Broken` statement has no text and is left out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from math import inf
from typing import Final, assert_never

from .syntax import (
    Argument,
    Assembly,
    Binary,
    BoardLine,
    Broken,
    Call,
    Choice,
    ClaimWords,
    Comment,
    Coordinate,
    CutLine,
    Declaration,
    DesignTitle,
    Expect,
    Expr,
    Fn,
    For,
    Heading,
    If,
    Index,
    JoinLine,
    Let,
    ListOf,
    Member,
    MotionLine,
    Name,
    Number,
    Param,
    Parameter,
    PlaceLine,
    Program,
    Property,
    Range,
    SpanClause,
    Spot,
    Stmt,
    TestBlock,
    Text,
    Turned,
    Unary,
    Use,
    WithinRange,
)

INDENT: Final = "  "

_CHOICE, _NOT, _COMPARISON, _RANGE, _SUM, _SIGN, _OPERAND = 0, 3, 4, 5, 6, 8, 9
_BINARY: Final = {"or": 1, "and": 2, "+": _SUM, "-": _SUM, "*": 7, "/": 7}
"""How tightly each form binds, 0 for the loosest: the order of the rules in `grammar.lark`."""

_ENDS_IN_NUMBER: Final = re.compile(r"(?:\A|\W)[0-9]\w*\Z")


def text_of(program: Program) -> str:
    """The canonical text of a tree, each line ended by a line feed; "" for an empty one."""
    lines = _Lines(program.comments)
    lines.statements(program.statements, 0, inf)
    lines.comments_before(inf, 0)
    return "".join(f"{line}\n" for line in lines.written)


class _Lines:
    """The lines written so far, and the comments still to be placed in order, the next one last.

    `until` is the offset where the next thing begins: a comment behind a line stands before it.
    """

    def __init__(self, comments: tuple[Comment, ...]) -> None:
        self.waiting = list(reversed(comments))
        self.written: list[str] = []

    def statements(self, statements: tuple[Stmt, ...], depth: int, until: float) -> None:
        starts = [*(statement.place.start for statement in statements), until][1:]
        for statement, following in zip(statements, starts, strict=True):
            match statement:
                case If():
                    self.choice("", statement, depth, following)
                case For() | Assembly() | TestBlock():
                    end = statement.place.end
                    self.comments_before(statement.place.start, depth)
                    self.head(head_text(statement), statement.body, depth, end)
                    self.close(end, depth, following)
                case Broken():
                    pass
                case _:
                    self.comments_before(statement.place.end, depth)
                    self.line(statement_text(statement), depth, following)

    def choice(self, before: str, statement: If, depth: int, until: float) -> None:
        """An `if` with its `else`; `before` closes the branch that it goes on from."""
        if not before:
            self.comments_before(statement.place.start, depth)
        end = statement.else_place.start if statement.else_place else statement.place.end
        self.head(f"{before}{head_text(statement)}", statement.yes, depth, end)
        match statement.no:
            case ():
                self.close(statement.place.end, depth, until)
            case (If() as other,):
                self.comments_before(end, depth + 1)
                self.choice("} else ", other, depth, until)
            case no:
                self.comments_before(end, depth + 1)
                self.head("} else", no, depth, statement.place.end)
                self.close(statement.place.end, depth, until)

    def head(self, text: str, body: tuple[Stmt, ...], depth: int, end: int) -> None:
        """The line that opens a block, the comment behind it, and the statements in the braces.
        Comments inside the head go before it."""
        start = body[0].place.start if body else end
        behind: list[Comment] = []
        while self.waiting and self.is_behind(start):
            behind.append(self.waiting.pop())
        self.written += [f"{INDENT * depth}#{comment.text}" for comment in behind[:-1]]
        self.written.append(_with_comment(f"{INDENT * depth}{text} {{", behind[-1:]))
        self.statements(body, depth + 1, end)

    def close(self, end: int, depth: int, until: float) -> None:
        """The closing brace of a block that ends at an offset."""
        self.comments_before(end, depth + 1)
        self.line("}", depth, until)

    def line(self, text: str, depth: int, until: float) -> None:
        """A line that ends something, with the comment behind it."""
        behind = [self.waiting.pop()] if self.is_behind(until) else []
        self.written.append(_with_comment(f"{INDENT * depth}{text}", behind))

    def is_behind(self, until: float) -> bool:
        """Whether the next comment shares its line with something that stands before `until`."""
        if not self.waiting:
            return False
        comment = self.waiting[-1]
        return not comment.own_line and comment.place.start < until

    def comments_before(self, offset: float, depth: int) -> None:
        """The comments that stand before an offset, on lines of their own."""
        while self.waiting and self.waiting[-1].place.start < offset:
            self.written.append(f"{INDENT * depth}#{self.waiting.pop().text}")


def _with_comment(line: str, behind: Iterable[Comment]) -> str:
    return "  ".join((line, *(f"#{comment.text}" for comment in behind)))


# ---- statements ----------------------------------------------------------------------------------


def head_text(statement: For | If | Assembly | TestBlock) -> str:
    """The head of a block without its brace."""
    match statement:
        case For():
            return f"for {statement.variable.text} in {expression(statement.over)}"
        case If():
            return f"if {expression(statement.condition)}"
        case Assembly():
            return f"assembly {statement.name.text}({_parameters(statement.parameters)})"
        case TestBlock():
            return f"test {expression(statement.title)}"
        case _:
            assert_never(statement)


def statement_text(
    statement: DesignTitle | Use | Param | Let | Fn | Declaration | BoardLine | JoinLine | CutLine
    | PlaceLine | MotionLine | Expect,
) -> str:  # fmt: skip
    """A statement that takes one line."""
    match statement:
        case DesignTitle():
            return f"design {expression(statement.title)}"
        case Use():
            return f"use {expression(statement.path)}"
        case Param():
            return _param(statement)
        case Let():
            return f"let {statement.name.text} = {expression(statement.value)}"
        case Fn():
            head = f"fn {statement.name.text}({_parameters(statement.parameters)})"
            return f"{head} = {expression(statement.body)}"
        case Declaration():
            head = f"{statement.keyword.text} {statement.name.text}"
            return f"{head} {_braces(statement.properties)}"
        case BoardLine():
            return _board(statement)
        case JoinLine():
            return _join(statement)
        case CutLine():
            return _cut(statement)
        case PlaceLine():
            return _place(statement)
        case MotionLine():
            return _motion(statement)
        case Expect():
            return f"expect {_claim(statement.claim)}"
        case _:
            assert_never(statement)


def _param(param: Param) -> str:
    is_bare = not isinstance(param.value, WithinRange)
    value = expression(param.value, _RANGE if param.within or not is_bare else _CHOICE)
    within = f" within {expression(param.within)}" if param.within else ""
    return f"param {param.name.text} = {value}{within}"


def _board(board: BoardLine) -> str:
    parts = [f"board {expression(board.name)} of {board.stock.text}"]
    parts += [_span(span) for span in board.spans]
    parts += [f"grain {board.grain.text}"] if board.grain else []
    parts += [_turned(turned) for turned in board.turned]
    return " ".join(parts)


def _join(join: JoinLine) -> str:
    first = ", ".join(expression(part) for part in join.first)
    second = ", ".join(expression(part) for part in join.second)
    parts = [f"join {first} {join.verb.text} {second} with {join.family.text}"]
    parts += [_braces(join.options)] if join.options else []
    parts += [f"as {expression(join.alias)}"] if join.alias else []
    return " ".join(parts)


def _cut(cut: CutLine) -> str:
    boards = ", ".join(expression(part) for part in cut.boards)
    parts = [f"cut {boards} from {cut.side.axis.text}.{cut.side.end.text}"]
    parts += [f"at {', '.join(_spot(spot) for spot in cut.at)}"] if cut.at else []
    parts += [f"with {cut.family.text}"]
    parts += [_braces(cut.options)] if cut.options else []
    parts += [f"as {expression(cut.alias)}"] if cut.alias else []
    return " ".join(parts)


def _spot(spot: Spot) -> str:
    if spot.hi is None:
        return f"{spot.axis.text} {expression(spot.lo, _SUM)}"
    sign = "+" if spot.hi_is_run else ""
    lo, hi = (expression(end, _SUM, is_tight=True) for end in (spot.lo, spot.hi))
    return f"{spot.axis.text} {lo}..{sign}{hi}"


def _place(place: PlaceLine) -> str:
    call = f"{place.assembly.text}({_arguments(place.arguments)})"
    parts = [f"place {expression(place.name)} = {call}"]
    parts += [_at(place.at)] if place.at else []
    parts += [_turned(turned) for turned in place.turned]
    return " ".join(parts)


def _motion(motion: MotionLine) -> str:
    moving = ", ".join(expression(part) for part in motion.moving)
    match motion.way:
        case Heading(axis=axis, is_back=is_back):
            way = f"{'-' if is_back else ''}{axis.text}"
        case slope:
            way = _coordinates(slope)
    at = f" {_at(motion.at)}" if motion.at else ""
    to, far = ("along", "for") if motion.keyword.text == "travel" else ("about", "by")
    amount = expression(motion.amount, _SUM)
    return f"{motion.keyword.text} {moving} {to} {way}{at} {far} {amount}"


def _claim(claim: Expr | ClaimWords) -> str:
    if isinstance(claim, ClaimWords):
        return " ".join(word.text for word in claim.words)
    return expression(claim)


def _span(span: SpanClause) -> str:
    sign = "+" if span.hi_is_run else ""
    lo, hi = (expression(end, _SUM, is_tight=True) for end in (span.lo, span.hi))
    return f"{span.axis.text} {lo}..{sign}{hi}"


def _turned(turned: Turned) -> str:
    at = f" {_at(turned.at)}" if turned.at else ""
    return f"turned {expression(turned.angle, _SUM)} about {turned.axis.text}{at}"


def _at(coordinates: tuple[Coordinate, ...]) -> str:
    return f"at {_coordinates(coordinates)}"


def _coordinates(coordinates: tuple[Coordinate, ...]) -> str:
    written = (f"{point.axis.text} {expression(point.value, _SUM)}" for point in coordinates)
    return ", ".join(written)


def _braces(properties: tuple[Property, ...]) -> str:
    if not properties:
        return "{ }"
    return f"{{ {', '.join(_property(one) for one in properties)} }}"


def _property(one: Property) -> str:
    """A property; an item that could be taken for a part of the one before it is put in
    parentheses."""
    words = [one.word.text]
    for item in one.items:
        text = expression(item)
        is_clear = len(words) == 1 or text[0] not in "-["
        words.append(text if is_clear else f"({text})")
    return " ".join(words)


def _parameters(parameters: tuple[Parameter, ...]) -> str:
    return ", ".join(_parameter(one) for one in parameters)


def _parameter(one: Parameter) -> str:
    kind = f": {one.kind.text}" if one.kind else ""
    default = f" = {expression(one.default)}" if one.default else ""
    return f"{one.name.text}{kind}{default}"


def _arguments(arguments: tuple[Argument, ...]) -> str:
    return ", ".join(
        f"{one.name.text}: {expression(one.value)}" if one.name else expression(one.value)
        for one in arguments
    )


# ---- expressions ---------------------------------------------------------------------------------


def expression(expr: Expr, least: int = _CHOICE, is_tight: bool = False) -> str:
    """An expression as it may stand where forms at least as tight as `least` are wanted; tight
    ones have no blanks around `+` and `-` where none are needed."""
    binding, text = _bound(expr, is_tight)
    return text if binding >= least else f"({text})"


def _bound(expr: Expr, is_tight: bool) -> tuple[int, str]:
    """How tightly an expression binds, and its text."""
    match expr:
        case Number():
            return _OPERAND, expr.text
        case Text():
            return _OPERAND, f'"{expr.value}"'
        case Name():
            return _OPERAND, expr.text
        case Index():
            return _OPERAND, f"{expression(expr.of, _OPERAND)}[{expression(expr.at)}]"
        case Member():
            of = expression(expr.of, _OPERAND)
            return _OPERAND, f"({of}).{expr.name.text}" if isinstance(expr.of, Number) else (
                f"{of}.{expr.name.text}"
            )
        case Call():
            return _OPERAND, f"{expr.function.text}({_arguments(expr.arguments)})"
        case ListOf():
            return _OPERAND, f"[{', '.join(expression(item) for item in expr.items)}]"
        case Unary():
            if expr.op == "not":
                return _NOT, f"not {expression(expr.operand, _NOT, is_tight)}"
            return _SIGN, f"-{expression(expr.operand, _SIGN, is_tight)}"
        case Binary():
            return _binary(expr, is_tight)
        case Range():
            lo, hi = (expression(end, _SUM, is_tight=True) for end in (expr.lo, expr.hi))
            return _RANGE, f"{lo}..{hi}"
        case WithinRange():
            value = expression(expr.value, _RANGE, is_tight)
            return _COMPARISON, f"{value} within {expression(expr.range)}"
        case Choice():
            condition, yes, no = (expression(one) for one in (expr.condition, expr.yes, expr.no))
            return _CHOICE, f"if {condition} then {yes} else {no}"
        case _:
            assert_never(expr)


def _binary(expr: Binary, is_tight: bool) -> tuple[int, str]:
    """Two operands and the sign between them. After a number, blanks keep `-` and `/` from being
    read as a part of it: `1 - 1/2in`, `3mm / s`."""
    binding = _BINARY.get(expr.op, _COMPARISON)
    is_comparison = binding == _COMPARISON
    left = expression(expr.left, _RANGE if is_comparison else binding, is_tight)
    right = expression(expr.right, binding + 1, is_tight)
    is_risky = expr.op in "-/" and bool(_ENDS_IN_NUMBER.search(left))
    is_glued = expr.op in "*/" or (is_tight and expr.op in "+-")
    blank = "" if is_glued and not is_risky else " "
    return binding, f"{left}{blank}{expr.op}{blank}{right}"
