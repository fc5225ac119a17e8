"""Random laps, bridles, dovetails, mitres, splines, dowels and puzzle joints to try laws on.

Each pair is drawn sound, sizes on a grid of 0.05 mm, mirrored at random and put down by a random
pose, as in `strategies.py`.
"""

from __future__ import annotations

from fractions import Fraction

from carpentry import join
from dryfit.kernel.board import Axis, Board, Box, Move, Span, Turn
from dryfit.kernel.cutter import Bit, BitKind
from dryfit.kernel.design import Design, OptionValue, Word
from dryfit.kernel.joint_findings import Form
from dryfit.kernel.joints import family_named
from dryfit.kernel.quantity import Quantity
from dryfit.kernel.stock import Stock
from hypothesis import strategies as st
from strategies import FITS, RADII, THICK, F, Trial, lengths, mm, poses

Spans = tuple[tuple[Fraction, Fraction], ...]
Options = dict[str, OptionValue | tuple[OptionValue, ...]]

CORNERED = st.sampled_from(["corner", "side", "swept"])


@st.composite
def pairs(
    draw: st.DrawFn, boards: tuple[Spans, Spans], thick: tuple[Fraction, Fraction], family: str,
    options: Options,
) -> Trial:  # fmt: skip
    """The two boards under the family, with a straight bit, a dovetail bit and two v bits."""
    mirrored = draw(st.tuples(st.booleans(), st.booleans(), st.booleans()))
    pose: tuple[Move, ...] = draw(st.just(()) | poses())

    def space(spans: Spans) -> Box:
        made = (
            Span(-hi, -lo) if flip else Span(lo, hi)
            for (lo, hi), flip in zip(spans, mirrored, strict=True)
        )
        return Box(*made)

    made = join(family, "a", "b", **options)
    stocks = tuple(
        Stock(name=name, thick=size, actual=(size, size))
        for name, size in zip(("of_a", "of_b"), thick, strict=True)
    )
    bits = (
        Bit(name="straight", kind=BitKind.STRAIGHT, radius=draw(RADII)),
        Bit(
            name="dovetail",
            kind=BitKind.DOVETAIL,
            radius=draw(lengths(3, 8)),
            angle=draw(st.sampled_from([F(7), F(10), F(14), F(18)])),
        ),
        Bit(name="v90", kind=BitKind.V, radius=F(40), angle=F(90)),
    )
    design = Design(
        name="trial",
        stocks=stocks,
        bits=bits,
        boards=tuple(
            Board(name=name, stock=f"of_{name}", box=space(spans), pose=pose)
            for name, spans in zip("ab", boards, strict=True)
        ),
        joins=(made,),
    )
    relief = options.get("relief")
    return Trial(design, made, relief.text if isinstance(relief, Word) else "corner")


@st.composite
def laps(draw: st.DrawFn) -> Trial:
    """Two boards in one plane that cross, each ending in the other or going on at random."""
    ta, tb = draw(THICK), draw(THICK)
    wa, wb = draw(lengths(30, 80)), draw(lengths(30, 80))
    low = draw(
        lengths(0, 5)
    )  # how much lower b lies: it still has wood on both sides of the middle
    past_a, past_b = draw(st.sampled_from([F(0), F(40)])), draw(st.sampled_from([F(0), F(40)]))
    a = ((-past_a, wb + 150), (F(0), wa), (F(0), ta))
    b = ((F(0), wb), (-past_b, wa + 150), (-low, tb - low))
    options: Options = {"fit": mm(draw(FITS)), "relief": Word(draw(CORNERED))}
    return draw(pairs((a, b), (ta, tb), "lap", options))


@st.composite
def edge_laps(draw: st.DrawFn) -> Trial:
    """Two boards on edge that stand across each other, of two heights."""
    ta, tb = draw(THICK), draw(THICK)
    ha, hb, low = draw(lengths(50, 120)), draw(lengths(50, 120)), draw(lengths(0, 20))
    a = ((F(-150), F(150)), (F(0), ta), (F(0), ha))
    b = ((F(0), tb), (F(-140), F(140)), (low, low + hb))
    options: Options = {
        "fit": mm(draw(FITS)),
        "gap": mm(draw(FITS)),
        "relief": Word(draw(st.sampled_from(["corner", "side", "swept", "long"]))),
    }
    return draw(pairs((a, b), (ta, tb), "edge_lap", options))


@st.composite
def bridles(draw: st.DrawFn) -> Trial:
    """The end of b forked over a, in mid-length or at a's end, or stopping inside its width."""
    thick = draw(lengths(16, 40))
    wa, wb = draw(lengths(30, 80)), draw(lengths(30, 80))
    end = draw(st.sampled_from([F(0), F(60)]))
    inside = draw(st.sampled_from([F(0), F(10)]))
    a = ((-end, wb + 150), (F(0), wa), (F(0), thick))
    b = ((F(0), wb), (inside, wa + 150), (F(0), thick))
    options: Options = {"fit": mm(draw(FITS)), "relief": Word(draw(CORNERED))}
    return draw(pairs((a, b), (thick, thick), "bridle", options))


@st.composite
def dovetails(draw: st.DrawFn) -> Trial:
    """A shelf that slides into a side, right across or stopped, straight or tapered."""
    ta, tb = draw(lengths(15, 30)), draw(lengths(14, 40))
    enters = draw(lengths(4, float(tb) / 2))
    width = draw(lengths(80, 200))
    front, past = draw(st.sampled_from([F(0), F(20)])), draw(st.sampled_from([F(0), F(15)]))
    options: Options = {
        "fit": mm(draw(FITS)),
        "gap": mm(draw(FITS)),
        "taper": mm(draw(st.sampled_from([F(0), F(1), F(3)]))),
        "shoulder": mm(draw(st.sampled_from([F(0), F(1, 2)]))),
    }
    if front == 0 and draw(st.booleans()):
        options["stop"] = (Word("lo"), mm(draw(lengths(0.05, 20))))
    a = ((tb - enters, tb + 200), (front, width + past), (F(60), 60 + ta))
    b = ((F(0), tb), (F(0), width), (F(0), F(160)))
    return draw(pairs((a, b), (ta, tb), "dovetail", options))


@st.composite
def mitres(draw: st.DrawFn) -> Trial:
    """A corner of two boards of one thickness or two, plain or splined."""
    ta = draw(lengths(12, 40))
    tb = draw(st.just(ta) | lengths(12, 40))
    width = draw(lengths(60, 200))
    a = ((F(0), ta), (F(0), width), (F(0), F(250)))
    b = ((F(0), F(240)), (F(0), width + draw(lengths(0, 10))), (F(0), tb))
    family = draw(st.sampled_from(["mitre", "splined_mitre"]))
    options: Options = {"fit": mm(draw(FITS))}
    if family == "splined_mitre":
        options |= {"thick": mm(F(3)), "width": mm(draw(lengths(4, 8)))}
    return draw(pairs((a, b), (ta, tb), family, options))


@st.composite
def loose(draw: st.DrawFn) -> Trial:
    """Boards that touch, edge to edge or end on face, with a spline, dowels or cross dowels."""
    ta, tb = draw(lengths(14, 30)), draw(lengths(14, 30))
    width = draw(lengths(100, 300))
    a = ((-F(160), F(0)), (F(0), width), (F(20), 20 + ta))
    flat = draw(st.booleans())
    b = ((F(0), F(140)), (F(-30), width), (F(20), 20 + tb)) if flat else (
        (F(0), tb), (F(0), width), (F(0), F(90)))  # fmt: skip
    family = draw(st.sampled_from(["spline", "dowels", *([] if flat else ["cross_dowel"])]))
    options: Options = {"fit": mm(draw(FITS))}
    if family == "spline" and draw(st.booleans()):
        options["stop"] = (Word("both"), mm(draw(lengths(5, 30))))
    return draw(pairs((a, b), (ta, tb), family, options))


@st.composite
def puzzles(draw: st.DrawFn) -> Trial:
    """Two boards of one section end to end."""
    thick, width, knob = draw(THICK), draw(lengths(80, 240)), draw(lengths(15, 60))
    a = ((F(-400), knob), (F(0), width), (F(0), thick))
    b = ((F(0), F(400)), (F(0), width), (F(0), thick))
    return draw(pairs((a, b), (thick, thick), "puzzle", {"fit": mm(draw(FITS))}))


CROSSINGS = st.one_of(laps(), edge_laps(), bridles(), dovetails(), mitres(), loose(), puzzles())

FAMILIES = (
    "lap",
    "edge_lap",
    "bridle",
    "dovetail",
    "mitre",
    "splined_mitre",
    "spline",
    "dowels",
    "cross_dowel",
    "puzzle",
)
EVERY_BIT = (
    Bit(name="b3", kind=BitKind.STRAIGHT, radius=F(3, 2)),
    Bit(name="b6", kind=BitKind.STRAIGHT, radius=F(3)),
    Bit(name="dovetail", kind=BitKind.DOVETAIL, radius=F(5), angle=F(14)),
    Bit(name="v90", kind=BitKind.V, radius=F(20), angle=F(90)),
)


@st.composite
def anyhow(draw: st.DrawFn) -> Design:
    """Two boards that lie near each other anyhow, at times turned, under any of these families,
    with options of any size."""
    family = family_named(draw(st.sampled_from(FAMILIES)))
    assert family is not None
    options: Options = {}
    for spec in family.options:
        if spec.name == "fit" or draw(st.integers(0, 3)) == 0:
            match spec.form:
                case Form.LENGTH:
                    sizes = (F(0), F(1, 10), F(1), F(5), F(12), F(18), F(40), F(500))
                    options[spec.name] = mm(draw(st.sampled_from(sizes)))
                case Form.COUNT:
                    options[spec.name] = Quantity(F(draw(st.integers(1, 30))))
                case Form.STOP:
                    ends = Word(draw(st.sampled_from(["lo", "hi", "both"])))
                    options[spec.name] = (ends, mm(draw(lengths(1, 40))))
    boards = tuple(draw(near_boards(name)) for name in "ab")
    stocks = tuple(
        Stock(name=board.stock, thick=thick, actual=(thick, thick)) for board, thick in boards
    )
    made = join(family.name, "a", "b", **options)
    return Design(
        name="anyhow",
        stocks=stocks,
        bits=EVERY_BIT,
        boards=tuple(board for board, _ in boards),
        joins=(made,),
    )


@st.composite
def near_boards(draw: st.DrawFn, name: str) -> tuple[Board, Fraction]:
    """A board that lies about the middle of things, and how thick it is."""
    thick = draw(st.sampled_from([F(6), F(12), F(18)]))
    wide = st.sampled_from([F(20), F(60), F(100), F(300)])
    x, y, z = (
        Span(lo, lo + size)
        for size in draw(st.permutations([thick, draw(wide), draw(wide)]))
        for lo in [draw(st.sampled_from([F(0), F(-18), F(12), F(-6), 18 - size, -size]))]
    )
    pose: tuple[Move, ...] = ()
    if draw(st.integers(0, 3)) == 0:
        turn = draw(st.sampled_from([F(30), F(45), F(60), F(-60), F(17)]))
        pose = (Turn(turn, draw(st.sampled_from(Axis)), (F(0), F(0), F(0))),)
    return Board(name=name, stock=f"of_{name}", box=Box(x, y, z), pose=pose), thick
