"""Random corners to try laws on: boxes with pegs and rounded pins, blind boxes, steps, tongued
corners, drawer locks. Sizes are drawn so that the joint can be cut, unless a bit has no room."""

from __future__ import annotations

from fractions import Fraction

from dryfit.kernel.design import OptionValue, Several, Word
from dryfit.kernel.quantity import Quantity
from hypothesis import assume
from hypothesis import strategies as st
from strategies import THICK, Trial, lengths, mm, trials

F = Fraction
Options = dict[str, OptionValue | tuple[OptionValue, ...]]
Spans = tuple[tuple[Fraction, Fraction], ...]


@st.composite
def corners(draw: st.DrawFn, ta: Fraction, tb: Fraction, width: Fraction) -> tuple[Spans, Spans]:
    """A upright under B, flush or proud at the corner, B as wide as A or wider. Both are
    wider than thick: the least size is taken for the thickness."""
    assume(width > max(ta, tb))
    proud_a, proud_b = draw(lengths(0, 5)), draw(lengths(0, 5))
    beside = draw(st.tuples(lengths(0, 10), lengths(0, 10)))
    a = ((F(0), ta), (F(0), width), (-proud_a, tb + 150))
    b = ((-proud_b, ta + 150), (-beside[0], width + beside[1]), (F(0), tb))
    return a, b


@st.composite
def pins(draw: st.DrawFn) -> tuple[Fraction, Options]:
    """A width and how its pins are told: by count, by size or by a list from one end to the middle,
    mirrored."""
    first: Options = {"first": Word(draw(st.sampled_from(["first", "second"])))}
    match draw(st.sampled_from(["count", "size", "list"])):
        case "count":
            count = draw(st.integers(3, 9))
            return count * draw(lengths(9, 30)), first | {"pins": Quantity(F(count))}
        case "size":
            width, size = draw(lengths(80, 200)), draw(lengths(12, 40))
            return width, first | {"pin_size": mm(size), "layout": Word("symmetric")}
        case _:
            half = draw(st.lists(lengths(9, 30), min_size=2, max_size=4))
            listed = Several(tuple(map(mm, half)))
            told: Options = {"pins": listed, "layout": Word("symmetric")}
            return 2 * sum(half) - half[-1], first | told


@st.composite
def box_kinds(draw: st.DrawFn) -> Trial:
    """A box joint with pegs or with every pin edge rounded."""
    ta, tb = draw(THICK), draw(THICK)
    width, options = draw(pins())
    a, b = draw(corners(ta, tb, width))
    if draw(st.booleans()):
        options["peg"] = mm(draw(lengths(4, 10)))
        options["peg_deep"] = mm(draw(lengths(1, 5)))
        options["peg_on"] = Word(draw(st.sampled_from(["both", "first", "second"])))
    return draw(trials(a, b, "box", options))


@st.composite
def rounded_boxes(draw: st.DrawFn) -> Trial:
    ta, tb = draw(THICK), draw(THICK)
    width, options = draw(pins())
    a, b = draw(corners(ta, tb, width))
    return draw(trials(a, b, "box", options | {"round": Word("every")}, relief="half_round"))


@st.composite
def blind_boxes(draw: st.DrawFn) -> Trial:
    ta, tb = draw(THICK), draw(THICK)
    width, options = draw(pins())
    a, b = draw(corners(ta, tb, width))
    options["cover"] = mm(draw(lengths(1, 6)))
    return draw(trials(a, b, "blind_box", options))


@st.composite
def steps(draw: st.DrawFn) -> Trial:
    ta, tb = draw(THICK), draw(THICK)
    a, b = draw(corners(ta, tb, draw(lengths(60, 200))))
    return draw(trials(a, b, "step", {"steps": Quantity(F(draw(st.integers(2, 9))))}))


@st.composite
def tongued_corners(draw: st.DrawFn) -> Trial:
    """A under B near its end, or flush with it."""
    ta, tb = draw(lengths(12, 30)), draw(lengths(12, 30))
    width, front = draw(lengths(80, 200)), draw(lengths(0, 30))
    a = ((F(0), ta), (front, width), (F(-150), draw(lengths(2, 10))))
    b = ((-draw(lengths(0, 20)), F(200)), (F(0), width), (F(0), tb))
    options: Options = {"thick": mm(draw(lengths(4, float(ta) / 2)))}
    return draw(trials(a, b, "tongued_corner", options))


@st.composite
def drawer_locks(draw: st.DrawFn) -> Trial:
    """A front whose lip covers the side's end; the one is named first, or the other."""
    front, side = draw(lengths(14, 30)), draw(lengths(9, 24))
    lip, past = draw(lengths(3, 6)), draw(lengths(0, 5))
    height, over = draw(lengths(60, 160)), draw(st.tuples(lengths(0, 15), lengths(0, 15)))
    f = ((-past, F(300)), (F(0), front), (-over[0], height + over[1]))
    s = ((F(0), side), (lip, F(250)), (F(0), height))
    if draw(st.booleans()):
        return draw(trials(s, f, "drawer_lock", {}))
    return draw(trials(f, s, "drawer_lock", {}))


CORNERS = st.one_of(
    box_kinds(), rounded_boxes(), blind_boxes(), steps(), tongued_corners(), drawer_locks()
)
