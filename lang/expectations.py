"""What does a `test` block claim? Its expectations, with everything computable worked out.

A measure such as `fit(back, left)` stays a measure, for the kernel to take from the piece as cut;
sums and products with it are checked for their dimensions here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, assert_never

from ..kernel.expect import (
    Arithmetic,
    Claim,
    Compare,
    Figure,
    Given,
    Measure,
    Op,
    Relation,
    Statement,
    Test,
    Within,
)
from ..kernel.finding import Place
from ..kernel.near import nearest
from ..kernel.quantity import COUNT, Quantity
from . import syntax
from .arithmetic import bounds, measure
from .evaluate import TRUTHS, evaluate
from .measures import CLAIM_CALLS, CLAIMS, IN_TESTS_ONLY, MEASURES
from .name_findings import UnknownClaim, Where
from .names import Scope
from .perform import perform
from .run import Frame, Room, Run, TestToDo
from .subjects import form_of, subjects
from .units import NOUGHT, matched, product, quotient
from .value_findings import MeasuredLogic, MixedDimensions, NoClaim
from .values import UNKNOWN, Stretch, kind_of

_RELATIONS: Final[Mapping[str, Relation]] = {relation.value: relation for relation in Relation}
_OPS: Final[Mapping[str, Op]] = {op.value: op for op in Op}
_TRUE: Final = Quantity(Fraction(1), COUNT)


@dataclass(frozen=True, slots=True)
class Term:
    """A figure of an expectation, and a stand-in quantity that carries its dimension."""

    figure: Figure
    stand_in: Quantity


def tested(todo: TestToDo, run: Run) -> Test:
    """The test of one block; an expectation that is not understood is left out, with findings."""
    written: list[tuple[syntax.Expect, Scope]] = []
    inner = Scope(parent=todo.scope, statements=todo.block.body)
    room = Room(where=Where.TEST, frame=Frame(scope=inner), expectations=written)
    perform(todo.block.body, inner, room, run)
    found = [made for expect, scope in written for made in _statements(expect, scope, run)]
    title = todo.block.title
    return Test(name=title.value, expectations=tuple(found), place=title.place)


def _statements(expect: syntax.Expect, scope: Scope, run: Run) -> list[Statement]:
    claim = expect.claim
    if not isinstance(claim, syntax.ClaimWords):
        return _claims(claim, scope, run)
    words = " ".join(word.text for word in claim.words)
    if words in CLAIMS:
        return [Claim(words, claim.place)]
    is_value = scope.value(words) is not None or words in TRUTHS or scope.may_declare(words)
    if len(claim.words) == 1 and is_value:
        return _claims(syntax.Name(words, claim.place), scope, run)
    near = nearest(words, CLAIMS)
    run.report(UnknownClaim(place=claim.place, words=words, nearest=near, known=CLAIMS))
    return []


def _claims(expr: syntax.Expr, scope: Scope, run: Run) -> list[Statement]:
    """The claims in an expression: each side of an `and` stands alone."""
    match expr:
        case syntax.Binary(op="and"):
            return [*_claims(expr.left, scope, run), *_claims(expr.right, scope, run)]
        case syntax.Binary(op=op) if op in _RELATIONS:
            made = _compared(expr, scope, run)
        case syntax.WithinRange():
            made = _within(expr, scope, run)
        case syntax.Call(function=syntax.Ident(text=name)) if name in CLAIM_CALLS:
            about = subjects(expr, CLAIM_CALLS[name], scope, run)
            made = None if about is None else Claim(name, expr.place, about)
        case _:
            made = _plain(expr, scope, run)
    return [] if made is None else [made]


def _plain(expr: syntax.Expr, scope: Scope, run: Run) -> Statement | None:
    """A claim that is worked out to true or false here."""
    if _is_measured(expr):
        _no_claim(expr, scope, run)
        return None
    value = evaluate(expr, scope, run)
    if value is UNKNOWN:
        return None
    if isinstance(value, bool):
        holds = Given(Quantity(Fraction(value), COUNT), expr.place)
        return Compare(Relation.EQ, holds, Given(_TRUE, expr.place), expr.place)
    run.report(NoClaim(place=expr.place, found=kind_of(value)))
    return None


def _no_claim(expr: syntax.Expr, scope: Scope, run: Run) -> None:
    """A measure that nothing is said of, or one under `or` and `not`."""
    if isinstance(expr, syntax.Binary | syntax.Unary) and expr.op in ("or", "not"):
        run.report(MeasuredLogic(place=expr.place, op=expr.op))
        return
    term = _term(expr, scope, run)
    if term is not None:
        run.report(NoClaim(place=expr.place, found=kind_of(term.stand_in)))


def _compared(expr: syntax.Binary, scope: Scope, run: Run) -> Statement | None:
    if not _is_measured(expr):
        left, right = (evaluate(side, scope, run) for side in (expr.left, expr.right))
        if not isinstance(left, Quantity) or not isinstance(right, Quantity):
            return _plain(expr, scope, run)
    a, b = _term(expr.left, scope, run), _term(expr.right, scope, run)
    if a is None or b is None:
        return None
    pair = _alike(expr.op, (a, b), (expr.left.place, expr.right.place), expr.op_place, run)
    if pair is None:
        return None
    return Compare(_RELATIONS[expr.op], pair[0].figure, pair[1].figure, expr.place)


def _within(expr: syntax.WithinRange, scope: Scope, run: Run) -> Statement | None:
    term = _term(expr.value, scope, run)
    lo, hi = _term(expr.range.lo, scope, run), _term(expr.range.hi, scope, run)
    if term is None or lo is None or hi is None:
        return None
    low = _alike("within", (term, lo), (expr.value.place, expr.range.lo.place), expr.place, run)
    high = _alike("within", (term, hi), (expr.value.place, expr.range.hi.place), expr.place, run)
    if low is None or high is None:
        return None
    ends = (low[1].figure, high[1].figure)
    if isinstance(ends[0], Given) and isinstance(ends[1], Given):
        limits = Stretch(ends[0].quantity, ends[1].quantity)
        if bounds(limits, expr.range.place, run) is UNKNOWN:
            return None
    return Within(low[0].figure, *ends, expr.place)


# ---- figures -------------------------------------------------------------------------------------


def _term(expr: syntax.Expr, scope: Scope, run: Run) -> Term | None:
    """The figure an expression stands for; None, with findings, when it stands for none."""
    if not _is_measured(expr):
        value = measure(evaluate(expr, scope, run), expr.place, run)
        return None if value is UNKNOWN else Term(Given(value, expr.place), value)
    match expr:
        case syntax.Call(function=syntax.Ident(text=name)) if name in MEASURES:
            return _measure(expr, scope, run)
        case syntax.Unary(op="-"):
            inner = _term(expr.operand, scope, run)
            minus = Term(Given(Quantity(Fraction(-1)), expr.place), Quantity(Fraction(-1)))
            return None if inner is None else _product(Op.MUL, minus, inner, expr.place)
        case syntax.Binary(op=op) if op in _OPS:
            return _arithmetic(expr, scope, run)
        case _:
            op = expr.op if isinstance(expr, syntax.Binary | syntax.Unary) else ""
            run.report(MeasuredLogic(place=expr.place, op=op))
            return None


def _arithmetic(expr: syntax.Binary, scope: Scope, run: Run) -> Term | None:
    a, b = _term(expr.left, scope, run), _term(expr.right, scope, run)
    if a is None or b is None:
        return None
    op = _OPS[expr.op]
    if op in (Op.MUL, Op.DIV):
        return _product(op, a, b, expr.place)
    pair = _alike(expr.op, (a, b), (expr.left.place, expr.right.place), expr.op_place, run)
    if pair is None:
        return None
    a, b = pair
    return Term(Arithmetic(op, a.figure, b.figure, expr.place), a.stand_in)


def _product(op: Op, a: Term, b: Term, place: Place) -> Term:
    one = Quantity(Fraction(1), b.stand_in.dimension)
    whole = product(a.stand_in, one) if op is Op.MUL else quotient(a.stand_in, one)
    return Term(Arithmetic(op, a.figure, b.figure, place), Quantity(Fraction(1), whole.dimension))


def _alike(
    op: str, terms: tuple[Term, Term], places: tuple[Place, Place], place: Place, run: Run
) -> tuple[Term, Term] | None:
    """Both terms in one dimension (nought takes the other's), or a finding."""
    left, right = terms
    pair = matched(left.stand_in, right.stand_in)
    if pair is None:
        run.report(
            MixedDimensions(
                place=place,
                op=op,
                left=kind_of(left.stand_in),
                right=kind_of(right.stand_in),
                left_figure=_shown(left),
                right_figure=_shown(right),
                left_place=places[0],
                right_place=places[1],
            )
        )
        return None
    return _as(left, pair[0]), _as(right, pair[1])


def _as(term: Term, value: Quantity) -> Term:
    """The term, a literal nought turned into the measure it stands for."""
    if term.stand_in is NOUGHT and isinstance(term.figure, Given):
        return Term(Given(value, term.figure.place), value)
    return term


def _shown(term: Term) -> Quantity | None:
    """What to show of a term's worth: a measure has none yet."""
    return term.stand_in if isinstance(term.figure, Given) else None


def _measure(call: syntax.Call, scope: Scope, run: Run) -> Term | None:
    """A measure and what it is about."""
    form = form_of(call)
    about = subjects(call, form.subjects, scope, run)
    if about is None:
        return None
    stand_in = Quantity(Fraction(1), form.dimension)
    return Term(Measure(call.function.text, about, call.place), stand_in)


def _is_measured(expr: syntax.Expr) -> bool:
    """Whether a measure is asked for anywhere in an expression."""
    match expr:
        case syntax.Call():
            called = expr.function.text in IN_TESTS_ONLY
            return called or any(_is_measured(argument.value) for argument in expr.arguments)
        case syntax.Binary():
            return _is_measured(expr.left) or _is_measured(expr.right)
        case syntax.Unary():
            return _is_measured(expr.operand)
        case syntax.Member():
            return _is_measured(expr.of)
        case syntax.Index():
            return _is_measured(expr.of) or _is_measured(expr.at)
        case syntax.ListOf():
            return any(_is_measured(item) for item in expr.items)
        case syntax.Range():
            return _is_measured(expr.lo) or _is_measured(expr.hi)
        case syntax.Choice():
            return any(_is_measured(e) for e in (expr.condition, expr.yes, expr.no))
        case syntax.WithinRange():
            return _is_measured(expr.value) or _is_measured(expr.range)
        case syntax.Number() | syntax.Text() | syntax.Name():
            return False
        case _:
            assert_never(expr)
