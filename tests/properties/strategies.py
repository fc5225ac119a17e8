"""Random things to try laws on: pairs of boards under a joint, with bits, fits and reliefs.

Each pair is drawn sound, so that its joint can be cut: sizes on a grid of 0.05 mm, in a random
corner of space, the whole put down by a random pose.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from carpentry import join
from dryfit.kernel.board import Axis, Board, Box, Move, Shift, Span, Turn
from dryfit.kernel.cutter import Bit, BitKind
from dryfit.kernel.design import Design, Join, OptionValue, Several, Word
from dryfit.kernel.quantity import LENGTH, Quantity
from dryfit.kernel.stock import Stock
from hypothesis import strategies as st

F = Fraction


@dataclass(frozen=True, slots=True)
class Trial:
    """Two boards under one join, and the design of just these."""

    design: Design
    join: Join
    relief: str


def lengths(least: float, most: float) -> st.SearchStrategy[Fraction]:
    """Multiples of 0.05 mm."""
    return st.integers(round(least * 20), round(most * 20)).map(lambda n: F(n, 20))


FITS = st.sampled_from([F(0), F(1, 20), F(1, 10), F(1, 4), F(1, 2)])
RADII = st.sampled_from([F(1), F(3, 2), F(127, 80), F(2), F(3), F(127, 40)])
THICK = lengths(9, 40)
RELIEFS = st.sampled_from(["corner", "side", "swept", "half_round", "long", "none"])
PIN_RELIEFS = st.sampled_from(["corner", "side", "swept", "half_round", "none"])
SQUARE_RELIEFS = st.sampled_from(["corner", "side", "swept", "none"])
RELIEFS_OF = {
    "box": PIN_RELIEFS,
    "blind_box": PIN_RELIEFS,
    "step": SQUARE_RELIEFS,
    "drawer_lock": SQUARE_RELIEFS,
}
"""The reliefs of families that do not take all of them."""


def mm(value: Fraction) -> Quantity:
    return Quantity(value, LENGTH)


@st.composite
def poses(draw: st.DrawFn) -> tuple[Move, ...]:
    """A random pose for a whole design: any angle about any axis, then a shift."""
    about = draw(st.sampled_from(Axis))
    degrees = F(draw(st.integers(-7200, 7200)), 20)
    x, y, z = (F(draw(st.integers(-500, 500)), 3) for _ in range(3))
    return (Turn(degrees, about, (x, y, z)), Shift((y, z, x)))


@st.composite
def trials(
    draw: st.DrawFn,
    a: tuple[tuple[Fraction, Fraction], ...],
    b: tuple[tuple[Fraction, Fraction], ...],
    family: str,
    options: dict[str, OptionValue | tuple[OptionValue, ...]],
    *,
    relief: str | None = None,
) -> Trial:
    """Boards `a` and `b` of their own stocks, mirrored at random, with a bit of a random radius; a
    random relief unless one is named."""
    radius = draw(RADII)
    mirrored = draw(st.tuples(st.booleans(), st.booleans(), st.booleans()))
    pose = draw(st.just(()) | poses())

    def space(spans: tuple[tuple[Fraction, Fraction], ...]) -> Box:
        made = (
            Span(-hi, -lo) if flip else Span(lo, hi)
            for (lo, hi), flip in zip(spans, mirrored, strict=True)
        )
        return Box(*made)

    if relief is None:
        relief = draw(RELIEFS_OF.get(family, RELIEFS))
    made = join(family, "a", "b", relief=Word(relief), fit=mm(draw(FITS)), **options)
    thick_a = min(hi - lo for lo, hi in a)
    thick_b = min(hi - lo for lo, hi in b)
    design = Design(
        name="trial",
        stocks=(
            Stock(name="of_a", thick=thick_a, actual=(thick_a, thick_a)),
            Stock(name="of_b", thick=thick_b, actual=(thick_b, thick_b)),
        ),
        bits=(
            Bit(name="straight", kind=BitKind.STRAIGHT, radius=radius),
            Bit(name="round", kind=BitKind.ROUNDOVER, radius=radius, by_hand=True),
        ),
        boards=(
            Board(name="a", stock="of_a", box=space(a), pose=pose),
            Board(name="b", stock="of_b", box=space(b), pose=pose),
        ),
        joins=(made,),
    )
    return Trial(design, made, relief)


@st.composite
def channels(draw: st.DrawFn) -> Trial:
    """A shelf or panel A in the inner face of a side B, through or stopped at either end."""
    ta, tb = draw(THICK), draw(THICK)
    enters = draw(lengths(1, 30).filter(lambda d: d < tb))
    width = draw(lengths(80, 200))
    front, back = draw(lengths(0, 30)), draw(lengths(0, 30))
    low = draw(lengths(10, 60))
    options: dict[str, OptionValue | tuple[OptionValue, ...]] = {}
    family = draw(st.sampled_from(["dado", "groove"]))
    if family == "dado" and draw(st.booleans()):
        ends = draw(st.sampled_from(["lo", "hi", "both"]))
        options["stop"] = (Word(ends), mm(draw(lengths(0.05, 15))))
    a = ((tb - enters, tb + 200), (front, width - back), (low, low + ta))
    b = ((F(0), tb), (F(0), width), (F(0), low + ta + draw(lengths(10, 60))))
    return draw(trials(a, b, family, options))


@st.composite
def rabbets(draw: st.DrawFn) -> Trial:
    """A panel or an end A in the edge of B, over the whole edge or a part of it."""
    ta, tb = draw(THICK), draw(THICK)
    enters = draw(lengths(1, 30).filter(lambda d: d < tb))
    height, width = draw(lengths(120, 240)), ta + draw(lengths(30, 90))
    low, high = draw(lengths(0, 30)), draw(lengths(0, 30))
    a = ((tb - enters, tb + 200), (width - ta, width), (low, height - high))
    b = ((F(0), tb), (F(0), width), (F(0), height))
    return draw(trials(a, b, "rabbet", {}))


@st.composite
def tenons(draw: st.DrawFn) -> Trial:
    """A rail A in the face of a post B: blind, through or proud, shouldered or whole."""
    ta, tb = draw(lengths(12, 40)), draw(THICK)
    reach = draw(lengths(1, 60))
    width = draw(lengths(40, 120))
    low, beside = draw(lengths(12, 40)), draw(lengths(12, 40))
    third = float(ta) / 3
    options: dict[str, OptionValue | tuple[OptionValue, ...]] = {"gap": mm(F(0))}
    if draw(st.booleans()):
        options["cheeks"] = Several((mm(draw(lengths(0, third))), mm(draw(lengths(0, third)))))
    if draw(st.booleans()):
        options["edges"] = Several((mm(draw(lengths(0, 12))), mm(draw(lengths(0, 12)))))
    a = ((tb - reach, tb + 200), (beside, beside + ta), (low, low + width))
    b = ((F(0), tb), (F(0), 2 * beside + ta), (F(0), low + width + draw(lengths(12, 40))))
    options |= draw(tenon_kinds(width, min(tb, reach)))
    return draw(trials(a, b, "tenon", options))


@st.composite
def tenon_kinds(draw: st.DrawFn, width: Fraction, depth: Fraction) -> dict[str, OptionValue]:
    """A plain tenon or one in a row, twinned, haunched or with the fillet left at its foot."""
    kind = draw(st.sampled_from(["plain", "row", "twin", "haunch", "fillet"]))
    match kind:
        case "row":
            return {"row": Quantity(F(draw(st.integers(2, 3))))}
        case "twin":
            return {"twin": Quantity(F(2))}
        case "haunch":
            deep = draw(lengths(0.5, 10).filter(lambda d: d < depth)) if depth > 1 else F(1, 4)
            off = Several((mm(F(0)), mm(draw(lengths(4, float(width) / 3)))))
            return {"edges": off, "haunch": mm(deep)}
        case "fillet":
            return {"root": Word("fillet"), "edges": mm(draw(lengths(1, 12)))}
    return {}


@st.composite
def tongues(draw: st.DrawFn) -> Trial:
    """A side A under a top B near its end, or two boards of one thickness edge to edge."""
    ta, tb = draw(lengths(12, 30)), draw(lengths(12, 30))
    enters = draw(lengths(1, 10))
    width, front = draw(lengths(80, 200)), draw(lengths(0, 30))
    options: dict[str, OptionValue | tuple[OptionValue, ...]] = {
        "thick": mm(draw(lengths(4, float(ta) / 2))),
    }
    if draw(st.booleans()):
        options["stop"] = (Word(draw(st.sampled_from(["lo", "hi"]))), mm(draw(lengths(0.05, 15))))
    if draw(st.booleans()):
        a = ((F(0), ta), (front, width), (F(-200), enters))
        b = ((-draw(lengths(0, 30)), F(200)), (F(0), width), (F(0), tb))
        options["shoulders"] = Word(draw(st.sampled_from(["both", "lo"])))
    else:
        a = ((F(-80), enters), (front, width), (F(0), ta))
        b = ((F(0), F(90)), (F(0), width), (F(0), ta))
    return draw(trials(a, b, "tongue", options))


@st.composite
def boxes(draw: st.DrawFn) -> Trial:
    """A corner of A and B, flush or proud, of one width or two."""
    ta, tb = draw(THICK), draw(THICK)
    proud_a, proud_b = draw(lengths(0, 5)), draw(lengths(0, 5))
    count = draw(st.integers(2, 9))
    width = count * draw(lengths(9, 30))
    wider = draw(st.tuples(lengths(0, 10), lengths(0, 10)))
    options: dict[str, OptionValue | tuple[OptionValue, ...]] = {
        "pins": Quantity(F(count)),
        "first": Word(draw(st.sampled_from(["first", "second"]))),
    }
    a = ((F(0), ta), (F(0), width), (-proud_a, tb + 150))
    b = ((-proud_b, ta + 150), (-wider[0], width + wider[1]), (F(0), tb))
    return draw(trials(a, b, "box", options))


JOINTS = st.one_of(channels(), rabbets(), tongues(), tenons(), boxes())
"""Pairs under every family that is cut."""
