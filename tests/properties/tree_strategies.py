"""Trees and texts of the language, made at random."""

from __future__ import annotations

from typing import Any

from dryfit.lang.build import number_value
from dryfit.lang.syntax import (
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
    Program,
    Property,
    Range,
    SideName,
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
from dryfit.lang.tokens import KEYWORDS
from hypothesis import strategies as st
from trees import NOWHERE

# ---- words and numbers ---------------------------------------------------------------------------

WORDS = st.sampled_from(
    ["left", "t", "x", "y", "z", "ply12", "h_2", "_", "fräse", "板", "hi", "by", "no", "s", "min"]
)
ANY_WORDS = WORDS | st.sampled_from(sorted(KEYWORDS))
NAMES = WORDS.map(lambda word: Name(word, NOWHERE))
IDENTS = WORDS.map(lambda word: Ident(word, NOWHERE))
ANY_IDENTS = ANY_WORDS.map(lambda word: Ident(word, NOWHERE))
AXES = st.sampled_from("xyz").map(lambda word: Ident(word, NOWHERE))
UNITS = st.sampled_from(["mm", "in", "deg", "mm3", "mm/min", "mm/s2", "ells"])
DIGITS = st.integers(0, 10**6).map(str)


@st.composite
def numbers(draw: st.DrawFn) -> Number:
    text = draw(DIGITS)
    unit = draw(UNITS)
    match draw(st.integers(0, 4)):
        case 0:
            pass
        case 1:
            text = f"{text}{unit}"
        case 2:
            text = f"{text}.{draw(DIGITS)}{unit}"
        case 3:
            text = f"{text}/{draw(st.integers(1, 64))}{unit.partition('/')[0]}"
        case _:
            over, under = draw(st.integers(0, 63)), draw(st.integers(1, 64))
            text = f"{text}-{over}/{under}{unit.partition('/')[0]}"
    value, word = number_value(text)
    return Number(value, word, text, NOWHERE)


TEXTS = st.text(
    st.characters(exclude_characters='"\r\n', exclude_categories=["Cs"]), max_size=12
).map(lambda value: Text(value, NOWHERE))

# ---- expressions ---------------------------------------------------------------------------------


def ranges(exprs: st.SearchStrategy[Expr]) -> st.SearchStrategy[Range]:
    return st.builds(lambda lo, hi: Range(lo, hi, NOWHERE), exprs, exprs)


def tuples(members: st.SearchStrategy[Any], least: int = 0, most: int = 3) -> Any:
    return st.lists(members, min_size=least, max_size=most).map(tuple)


def _larger(exprs: st.SearchStrategy[Expr]) -> st.SearchStrategy[Expr]:
    ops = st.sampled_from(["+", "-", "*", "/", "and", "or", "==", "!=", "<", "<=", ">", ">="])
    arguments = st.builds(lambda n, v: Argument(n, v, NOWHERE), st.none() | ANY_IDENTS, exprs)
    return st.one_of(
        st.builds(lambda of, at: Index(of, at, NOWHERE), exprs, exprs),
        st.builds(lambda of, name: Member(of, name, NOWHERE), exprs, ANY_IDENTS),
        st.builds(lambda op, e: Unary(op, e, NOWHERE), st.sampled_from(["-", "not"]), exprs),
        st.builds(lambda op, a, b: Binary(op, a, b, NOWHERE, NOWHERE), ops, exprs, exprs),
        st.builds(lambda f, a: Call(f, a, NOWHERE), IDENTS, tuples(arguments)),
        st.builds(lambda items: ListOf(items, NOWHERE), tuples(exprs)),
        ranges(exprs),
        st.builds(lambda c, a, b: Choice(c, a, b, NOWHERE), exprs, exprs, exprs),
        st.builds(lambda v, r: WithinRange(v, r, NOWHERE), exprs, ranges(exprs)),
    )


EXPRS: st.SearchStrategy[Expr] = st.recursive(
    st.one_of(NAMES, numbers(), TEXTS), _larger, max_leaves=8
)

REFERENCES = st.recursive(
    NAMES,
    lambda inner: (
        st.builds(lambda of, at: Index(of, at, NOWHERE), inner, EXPRS)
        | st.builds(lambda of, name: Member(of, name, NOWHERE), inner, ANY_IDENTS)
    ),
    max_leaves=3,
)
LABELS = NAMES | st.builds(lambda of, at: Index(of, at, NOWHERE), NAMES, EXPRS)

# ---- statements ----------------------------------------------------------------------------------

COORDINATES = st.builds(lambda axis, e: Coordinate(axis, e, NOWHERE), AXES, EXPRS)
TURNED = st.builds(lambda e, a, at: Turned(e, a, at, NOWHERE), EXPRS, AXES, tuples(COORDINATES))
FURTHER = st.one_of(NAMES, numbers(), TEXTS)
"""Items after the first: such as no sign joins to the one before."""
ITEMS = st.just(()) | st.builds(lambda first, more: (first, *more), EXPRS, tuples(FURTHER))
PROPERTIES = st.builds(lambda w, items: Property(w, items, NOWHERE), ANY_IDENTS, ITEMS)
PARAMETERS = st.builds(
    lambda n, k, d: Parameter(n, k, d, NOWHERE), ANY_IDENTS, IDENTS, st.none() | EXPRS
) | st.builds(lambda n, d: Parameter(n, None, d, NOWHERE), IDENTS, st.none() | EXPRS)
ARGUMENTS = st.builds(lambda n, v: Argument(n, v, NOWHERE), st.none() | ANY_IDENTS, EXPRS)


@st.composite
def boards(draw: st.DrawFn) -> BoardLine:
    spans = tuple(
        SpanClause(Ident(axis, NOWHERE), draw(EXPRS), draw(EXPRS), draw(st.booleans()), NOWHERE)
        for axis in draw(st.permutations("xyz"))
    )
    grain = draw(st.none() | AXES)
    turned = draw(tuples(TURNED, most=2))
    return BoardLine(draw(LABELS), draw(IDENTS), spans, grain, turned, NOWHERE)


@st.composite
def joins(draw: st.DrawFn) -> JoinLine:
    verb = draw(st.sampled_from(["to", "into", "across"]))
    return JoinLine(
        draw(tuples(REFERENCES, least=1)),
        Ident(verb, NOWHERE),
        draw(tuples(REFERENCES, least=1)),
        draw(IDENTS),
        draw(tuples(PROPERTIES)),
        draw(st.none() | LABELS),
        NOWHERE,
    )


@st.composite
def spots(draw: st.DrawFn) -> Spot:
    hi = draw(st.none() | EXPRS)
    is_run = hi is not None and draw(st.booleans())
    return Spot(draw(AXES), draw(EXPRS), hi, is_run, NOWHERE)


CUTS = st.builds(
    lambda b, a, e, at, f, o, n: CutLine(b, SideName(a, e, NOWHERE), at, f, o, n, NOWHERE),
    tuples(REFERENCES, least=1),
    AXES,
    ANY_IDENTS,
    tuples(spots()),
    IDENTS,
    tuples(PROPERTIES),
    st.none() | LABELS,
)

HEADINGS = st.builds(lambda axis, is_back: Heading(axis, is_back, NOWHERE), AXES, st.booleans())
ABOUT = AXES.map(lambda axis: Heading(axis, False, NOWHERE))
TRAVELS = st.builds(
    lambda m, way, far: MotionLine(Ident("travel", NOWHERE), m, way, (), far, NOWHERE),
    tuples(REFERENCES, least=1),
    HEADINGS | tuples(COORDINATES, least=1),
    EXPRS,
)
SWINGS = st.builds(
    lambda m, way, at, by: MotionLine(Ident("swing", NOWHERE), m, way, at, by, NOWHERE),
    tuples(REFERENCES, least=1),
    ABOUT,
    tuples(COORDINATES),
    EXPRS,
)

CLAIMS = EXPRS.filter(lambda e: not isinstance(e, Name)) | st.builds(
    lambda words: ClaimWords(words, NOWHERE), tuples(IDENTS, least=1)
)
KEYWORDS_OF_LISTS = st.sampled_from(["stock", "bit", "machine"])

SIMPLE: st.SearchStrategy[Stmt] = st.one_of(
    st.builds(lambda t: DesignTitle(t, NOWHERE), TEXTS),
    st.builds(lambda t: Use(t, NOWHERE), TEXTS),
    st.builds(lambda n, v, w: Param(n, v, w, NOWHERE), IDENTS, EXPRS, st.none() | ranges(EXPRS)),
    st.builds(lambda n, v: Let(n, v, NOWHERE), IDENTS, EXPRS),
    st.builds(lambda n, p, b: Fn(n, p, b, NOWHERE), IDENTS, tuples(PARAMETERS), EXPRS),
    st.builds(
        lambda k, n, p: Declaration(Ident(k, NOWHERE), n, p, NOWHERE),
        KEYWORDS_OF_LISTS,
        IDENTS,
        tuples(PROPERTIES),
    ),
    boards(),
    joins(),
    CUTS,
    TRAVELS,
    SWINGS,
    st.builds(
        lambda n, a, v, at, t: PlaceLine(n, a, v, at, t, NOWHERE),
        LABELS,
        IDENTS,
        tuples(ARGUMENTS),
        tuples(COORDINATES),
        tuples(TURNED, most=2),
    ),
    st.builds(lambda c: Expect(c, NOWHERE), CLAIMS),
)


def _blocks(inner: st.SearchStrategy[Stmt]) -> st.SearchStrategy[Stmt]:
    body = tuples(inner)
    return st.one_of(
        st.builds(lambda v, e, b: For(v, e, b, NOWHERE), IDENTS, EXPRS, body),
        st.builds(lambda c, y, n: If(c, y, n, NOWHERE), EXPRS, body, body),
        st.builds(lambda n, p, b: Assembly(n, p, b, NOWHERE), IDENTS, tuples(PARAMETERS), body),
        st.builds(lambda t, b: TestBlock(t, b, NOWHERE), TEXTS, body),
    )


STATEMENTS: st.SearchStrategy[Stmt] = st.recursive(SIMPLE, _blocks, max_leaves=5)
PROGRAMS = tuples(STATEMENTS).map(lambda statements: Program("a.dry", statements, ()))
