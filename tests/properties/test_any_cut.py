"""Laws that hold for any cut of a single board, wherever it lies."""

from __future__ import annotations

from fractions import Fraction

import pytest
from cut_boards import BITS, shaping
from dryfit.kernel.board import Axis, Board, Box, Span
from dryfit.kernel.design import Along, Design, OptionValue, Shaping, Spots, Word
from dryfit.kernel.plan import BoardPlan, cut_plan
from dryfit.kernel.quantity import LENGTH, Quantity
from dryfit.kernel.shaping import shapings
from dryfit.kernel.solids import Solid, swept, true_body, volume, without
from dryfit.kernel.stock import Stock
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import lengths, poses

F = Fraction
CHORD = 0.01
SIDES = [f"{axis}.{end}" for axis in "xyz" for end in ("lo", "hi")]
SIZES = ("rise", "deep", "radius", "diameter", "wide", "long", "size", "corner", "head", "seat")
"""Options that take a length, in whatever kind has them."""

STRETCHED = ("shelf_pins", "slot", "arch", "notch", "scallop", "rabbet", "pocket")


@st.composite
def boards(draw: st.DrawFn) -> Board:
    """A board as thick as its stock along any axis, anywhere, in any pose."""
    thick = draw(st.permutations([F(18), draw(lengths(60, 300)), draw(lengths(60, 300))]))
    starts = [draw(lengths(0, 400)) - 200 for _ in Axis]
    x, y, z = (Span(lo, lo + size) for lo, size in zip(starts, thick, strict=True))
    return Board(name="panel", stock="ply18", box=Box(x, y, z), pose=draw(st.just(()) | poses()))


@st.composite
def cuts(draw: st.DrawFn, board: Board) -> Shaping:
    """Any kind of cut, mostly within the board, its sizes drawn at random."""
    family, side = draw(st.sampled_from(shapings())), draw(st.sampled_from(SIDES))
    around = [other for other in SIDES if other[0] != side[0]]
    at: list[Spots | Along] = []
    for axis in draw(st.sets(st.sampled_from([Axis("xyz".index(o[0])) for o in around]))):
        span = board.box[axis]
        one, other = (span.lo + span.size * F(draw(st.integers(-1, 21)), 20) for _ in range(2))
        is_run = family.name in STRETCHED and not any(isinstance(a, Along) for a in at)
        if (is_run or draw(st.booleans())) and one != other:
            at.append(Along(axis, Span(min(one, other), max(one, other))))
        else:
            at.append(Spots(axis, (one,)))
    options: dict[str, OptionValue | tuple[OptionValue, ...]] = {}
    for spec in family.options:
        if spec.name in SIZES and draw(st.booleans()):
            options[spec.name] = Quantity(draw(lengths(1, 40)), LENGTH)
        elif spec.name in ("edge", "edges") and draw(st.booleans()):
            options[spec.name] = Word(draw(st.sampled_from(around)))
    return shaping(side, family.name, *sorted(at, key=lambda entry: entry.axis), **options)


def design(board: Board, made: Shaping) -> Design:
    stock = Stock(name="ply18", thick=F(18), actual=(F(18), F(18)))
    return Design(name="any", stocks=(stock,), bits=BITS, boards=(board,), shapings=(made,))


def together(piece: BoardPlan) -> Solid:
    """All that the cuts clear, as one solid."""
    parts = [swept(piece.board, cut, cut.region, CHORD) for cut in piece.cuts]
    whole = parts[0]
    for part in parts[1:]:
        whole += part
    return whole


@settings(max_examples=250, deadline=None)
@given(st.data())
def test_a_cut_is_made_or_a_finding_says_why_not(data: st.DataObject) -> None:
    """What is cut away plus what is left is the blank, and something is cut away."""
    board = data.draw(boards())
    outcome = cut_plan(design(board, data.draw(cuts(board))))
    assert outcome.value is not None
    (piece,) = outcome.value.boards
    (shaped,) = outcome.value.shaped
    assert shaped.failed == bool(outcome.findings) == (not piece.cuts)
    if shaped.failed:
        assert all(finding.code[0] in "BCJ" for finding in outcome.findings)
        return
    plain = BoardPlan(board=board, run=piece.run, cuts=())
    blank = swept_blank(plain)
    removed = volume(blank ^ together(piece))
    left = volume(without(blank, [together(piece)]))
    whole = float(board.box.x.size * board.box.y.size * board.box.z.size)
    assert volume(true_body(piece, CHORD).solid) == pytest.approx(left, rel=1e-9)
    assert removed + left == pytest.approx(whole, rel=1e-9)
    assert 0 < removed < whole


def swept_blank(plain: BoardPlan) -> Solid:
    """The blank, put down by the board's pose."""
    from dryfit.kernel.solids import in_world

    return in_world(plain.board, true_body(plain).solid)
