"""Which record does each rule of the grammar make?

One method a rule of `grammar.lark`, called by the parser with what the rule was made of: tokens,
and what other rules gave. Everything about one text is in the tokens, so that one `Build` serves
every parse. Nothing here raises, whatever the text.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from typing import Any, TypeAlias

from ..kernel.finding import Place
from .syntax import (
    Argument,
    Assembly,
    Binary,
    BoardLine,
    Call,
    Choice,
    ClaimWords,
    Coordinate,
    CutLine,
    Declaration,
    DesignTitle,
    Expect,
    Expr,
    Fn,
    For,
    Heading,
    Ident,
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
    Property,
    Range,
    SideName,
    SpanClause,
    Spot,
    TestBlock,
    Text,
    Turned,
    Unary,
    Use,
    WithinRange,
)
from .tokens import Token

Parts: TypeAlias = list[Any]
"""What a rule was made of, in order: the grammar fixes the types."""


class Build:
    """The records of `syntax.py`, by rule."""

    # ---- statements ----

    def design(self, parts: Parts) -> DesignTitle:
        return DesignTitle(_text(parts[1]), _over(parts))

    def use(self, parts: Parts) -> Use:
        return Use(_text(parts[1]), _over(parts))

    def param(self, parts: Parts) -> Param:
        value: Expr = parts[2]
        within = None
        if isinstance(value, WithinRange) and value.place.start == value.value.place.start:
            within = value.range  # else it stands in parentheses and is a value of its own
            value = value.value
        return Param(_ident(parts[1]), value, within, _over(parts))

    def let(self, parts: Parts) -> Let:
        return Let(_ident(parts[1]), parts[2], _over(parts))

    def fn(self, parts: Parts) -> Fn:
        parameters = tuple(parts[3]) if isinstance(parts[3], list) else ()
        return Fn(_ident(parts[1]), parameters, parts[-1], _over(parts))

    def value(self, parts: Parts) -> Expr:
        given: Expr = parts[1]
        return given

    def kind(self, parts: Parts) -> Token:
        token: Token = parts[0]
        return token

    verb = kind

    def declaration(self, parts: Parts) -> Declaration:
        keyword, name, braces = parts
        place = Place(keyword.file, keyword.start, braces[-1].end)
        return Declaration(_ident(keyword), _ident(name), tuple(braces[:-1]), place)

    def board(self, parts: Parts) -> BoardLine:
        clauses = parts[4]
        grains = [clause for clause in clauses if isinstance(clause, Ident)]
        return BoardLine(
            _label(parts[1]),
            _ident(parts[3]),
            tuple(clause for clause in clauses if isinstance(clause, SpanClause)),
            grains[-1] if grains else None,
            tuple(clause for clause in clauses if isinstance(clause, Turned)),
            _over(parts),
        )

    def join(self, parts: Parts) -> JoinLine:
        keyword, first, verb, second, (family, options, alias, end) = parts
        place = Place(keyword.file, keyword.start, end)
        return JoinLine(tuple(first), _ident(verb), tuple(second), family, options, alias, place)

    def cut(self, parts: Parts) -> CutLine:
        keyword, boards, _, side, *spots, (family, options, alias, end) = parts
        at = tuple(spots[0]) if spots else ()
        place = Place(keyword.file, keyword.start, end)
        return CutLine(tuple(boards), side, at, family, options, alias, place)

    def how(self, parts: Parts) -> Parts:
        """The family, its options, the name of the joint or None, and where all that ends."""
        braces: Parts = parts[2] if len(parts) > 2 and isinstance(parts[2], list) else []
        alias = parts[-1] if isinstance(parts[-1], (Name, Index)) else None
        return [_ident(parts[1]), tuple(braces[:-1]), alias, _over(parts).end]

    def place(self, parts: Parts) -> PlaceLine:
        call, rest = parts[3], parts[4:]
        at = tuple(rest[0]) if rest and isinstance(rest[0][0], Coordinate) else ()
        turned = tuple(rest[-1]) if rest and isinstance(rest[-1][0], Turned) else ()
        return PlaceLine(_label(parts[1]), call.function, call.arguments, at, turned, _over(parts))

    def travel(self, parts: Parts) -> MotionLine:
        keyword, moving, _, along, _, distance = parts
        way = along if isinstance(along, Heading) else tuple(along)
        return MotionLine(_ident(keyword), tuple(moving), way, (), distance, _over(parts))

    def swing(self, parts: Parts) -> MotionLine:
        keyword, moving, _, axis, *at, _, angle = parts
        way = Heading(_ident(axis), False, axis.place)
        spot = tuple(at[0]) if at else ()
        return MotionLine(_ident(keyword), tuple(moving), way, spot, angle, _over(parts))

    def heading(self, parts: Parts) -> Heading:
        return Heading(_ident(parts[-1]), parts[0].text == "-", _over(parts))

    def expect(self, parts: Parts) -> Expect:
        claim = parts[1]
        if isinstance(claim, Name):
            claim = ClaimWords((Ident(claim.text, claim.place),), claim.place)
        return Expect(claim, _over(parts))

    def expect_words(self, parts: Parts) -> Expect:
        words = (_ident(parts[1]), *parts[2])
        place = Place(parts[1].file, parts[1].start, words[-1].place.end)
        return Expect(ClaimWords(words, place), _over(parts))

    def for_head(self, parts: Parts) -> For:
        return For(_ident(parts[1]), parts[3], (), _over(parts))

    def if_head(self, parts: Parts) -> If:
        return If(parts[1], (), (), _over(parts))

    def assembly_head(self, parts: Parts) -> Assembly:
        parameters = tuple(parts[3]) if len(parts) > 3 and isinstance(parts[3], list) else ()
        return Assembly(_ident(parts[1]), parameters, (), _over(parts))

    def test_head(self, parts: Parts) -> TestBlock:
        return TestBlock(_text(parts[1]), (), _over(parts))

    # ---- pieces of statements ----

    def index_label(self, parts: Parts) -> Index:
        name, (_, at, _) = parts
        return Index(_name(name), at, _over(parts))

    def clauses(self, parts: Parts) -> Parts:
        return _grown(parts)

    turns = clauses

    def span(self, parts: Parts) -> SpanClause:
        axis, lo, up_to = parts
        return SpanClause(_ident(axis), lo, up_to[-1], len(up_to) == 3, _over(parts))

    def up_to(self, parts: Parts) -> Parts:
        """The dots, `+` where it is written, and the end."""
        return parts

    def grain(self, parts: Parts) -> Ident:
        return _ident(parts[1])

    def turn(self, parts: Parts) -> Turned:
        at = tuple(parts[4]) if len(parts) > 4 else ()
        return Turned(parts[1], _ident(parts[3]), at, _over(parts))

    def at(self, parts: Parts) -> Parts:
        return [parts[1]] if len(parts) == 2 else _grown(parts)

    def coordinate(self, parts: Parts) -> Coordinate:
        return Coordinate(_ident(parts[0]), parts[1], _over(parts))

    def board_side(self, parts: Parts) -> SideName:
        return SideName(_ident(parts[0]), _ident(parts[2]), _over(parts))

    spots = at
    slope = clauses

    def spot(self, parts: Parts) -> Spot:
        where: Coordinate | SpanClause = parts[0]
        if isinstance(where, Coordinate):
            return Spot(where.axis, where.value, None, False, where.place)
        return Spot(where.axis, where.lo, where.hi, where.hi_is_run, where.place)

    def parts(self, parts: Parts) -> Parts:
        return _listed(parts)

    def alias(self, parts: Parts) -> Name | Index:
        return _label(parts[1])

    def braces(self, parts: Parts) -> Parts:
        """The properties, and last the closing brace."""
        inside = next((part for part in parts if isinstance(part, list)), [])
        return [*inside, parts[-1]]

    def properties(self, parts: Parts) -> Parts:
        return _grown(parts)

    def entry(self, parts: Parts) -> Property:
        items = tuple(parts[1]) if len(parts) > 1 else ()
        return Property(_ident(parts[0]), items, _over(parts))

    def items(self, parts: Parts) -> Parts:
        last = parts[-1]
        return _grown([*parts[:-1], _name(last) if isinstance(last, Token) else last])

    def words(self, parts: Parts) -> Parts:
        return _grown([*parts[:-1], _ident(parts[-1])])

    def parameters(self, parts: Parts) -> Parts:
        return _listed(parts)

    def parameter(self, parts: Parts) -> Parameter:
        kind = _ident(parts[2]) if len(parts) > 2 and parts[1].type == "COLON" else None
        default = parts[-1] if not isinstance(parts[-1], Token) else None
        return Parameter(_ident(parts[0]), kind, default, _over(parts))

    def arguments(self, parts: Parts) -> Parts:
        return _listed(parts)

    def argument(self, parts: Parts) -> Argument:
        return Argument(None, parts[0], parts[0].place)

    def values(self, parts: Parts) -> Parts:
        return _listed(parts)

    def named_argument(self, parts: Parts) -> Argument:
        return Argument(_ident(parts[0]), parts[2], _over(parts))

    # ---- expressions ----

    def choice(self, parts: Parts) -> Choice:
        return Choice(parts[1], parts[3], parts[5], _over(parts))

    def binary(self, parts: Parts) -> Binary:
        left, op, right = parts
        return Binary(op.text, left, right, op.place, _over(parts))

    def unary(self, parts: Parts) -> Unary:
        return Unary(parts[0].text, parts[1], _over(parts))

    def within(self, parts: Parts) -> WithinRange:
        return WithinRange(parts[0], parts[2], _over(parts))

    def extent(self, parts: Parts) -> Range:
        return Range(parts[0], parts[2], _over(parts))

    def name(self, parts: Parts) -> Name:
        return _name(parts[0])

    def index(self, parts: Parts) -> Index:
        of, (_, at, _) = parts
        return Index(of, at, _over(parts))

    def subscript(self, parts: Parts) -> Parts:
        """The brackets and what is in them."""
        return parts

    def member(self, parts: Parts) -> Member:
        return Member(parts[0], _ident(parts[2]), _over(parts))

    def number(self, parts: Parts) -> Number:
        token = parts[0]
        value, unit = number_value(token.text)
        return Number(value, unit, token.text, token.place)

    def text(self, parts: Parts) -> Text:
        return _text(parts[0])

    def call(self, parts: Parts) -> Call:
        arguments = tuple(parts[2]) if isinstance(parts[2], list) else ()
        return Call(_ident(parts[0]), arguments, _over(parts))

    def group(self, parts: Parts) -> Expr:
        """What stands in the parentheses, its place widened to hold them."""
        inner: Expr = parts[1]
        return replace(inner, place=_over(parts))

    def listing(self, parts: Parts) -> ListOf:
        return ListOf(tuple(parts[1]) if len(parts) > 2 else (), _over(parts))


@lru_cache(maxsize=4096)
def number_value(text: str) -> tuple[Fraction, str | None]:
    """The exact number and the unit word of a written number, which is a valid one.

    >>> number_value("1-1/2in"), number_value("0.25")
    ((Fraction(3, 2), 'in'), (Fraction(1, 4), None))
    """
    at = next((at for at, letter in enumerate(text) if letter not in "0123456789.-/"), len(text))
    figures, unit = text[:at], text[at:] or None
    whole, _, part = figures.rpartition("-")
    value = Fraction(part) + (Fraction(whole) if whole else 0)
    return value, unit


def _grown(parts: Parts) -> Parts:
    """A list, begun by its first member or grown by the last of the parts."""
    if len(parts) == 1:
        return parts
    members: Parts = parts[0]
    members.append(parts[-1])
    return members


def _listed(parts: Parts) -> Parts:
    """A list between commas, begun or grown; a comma alone may follow the last member."""
    members: Parts = parts[0]
    return members if len(parts) == 2 else _grown(parts)


def _ident(token: Token) -> Ident:
    return Ident(token.text, token.place)


def _name(token: Token) -> Name:
    return Name(token.text, token.place)


def _text(token: Token) -> Text:
    return Text(token.text[1:-1], token.place)


def _label(part: Token | Index) -> Name | Index:
    return _name(part) if isinstance(part, Token) else part


def _over(parts: Parts) -> Place:
    """From the first of the parts to the end of the last."""
    first, last = parts[0], parts[-1]
    while isinstance(first, list):
        first = first[0]
    while isinstance(last, list):
        last = last[-1]
    if not isinstance(first, Token):
        first = first.place
    if not isinstance(last, Token):
        last = last.place
    return Place(first.file, first.start, last.end)
