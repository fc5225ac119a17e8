"""Mortise and tenon: `A into B with tenon`.

A's end enters B as far as their boxes overlap; B gets a mortise in the face A comes in by. The
mortise goes through where A's end reaches B's far face, and the tenon stands proud where A's box
goes on beyond it. `cheeks` are the shoulders on A's faces, `edges` those on A's edges, each from
A's own surface (so the tenon follows the thickness delivered); unlike ones set the tenon off the
middle. `thick` and `width` ask for a tenon of that size in the middle instead. With neither the
whole section enters. `row` makes several tenons side by side across A's width, `twin` several
through its thickness, with spaces as wide as they. `haunch` lets the shoulder nearer B's end enter
too, that deep, in a groove that runs out at B's end where A comes to it.

Relief. The mortise's corners are relieved, or lengthened along A's width, or left round and the
tenon's four long edges rounded. The corner at the foot of each edge shoulder is an inside corner of
A, where the same bit leaves a fillet. `root relieved` undercuts it as the mortise is relieved, and
at the corner where the mortise has no relief of its own to share (`long`, `half_round`); `root
fillet` leaves it, the stronger tenon, and widens the mortise's mouth by one radius to clear it.

A board that leans in the plane of its own faces, as a splayed leg does, gets a tenon square to B
and shoulders at an angle; one turned about its own length gets a turned mortise (`leaning.py`).

Defaults. `fit` 0.1 mm in all, across both the thickness and the width: 0.13 mm (0.005 in) in all
is the published figure for a tenon (Fine Woodworking, Jan/Feb 2017, as quoted). `gap` 1 mm under a
blind tenon's end for glue; up to 3.2 mm (1/8 in) is usual in hand work. Tenon thickness of a third
of the stock and shoulders of 3 to 6 mm are usual in solid wood, a haunch as deep as the tenon is
thick (common practice); sheet parts mostly enter whole, which is the default.
"""

from __future__ import annotations

from ..design import Verb
from ..finding import Finding, Outcome
from .carve import Bench, finished
from .family import Family, JointCuts
from .leaning import cut_leaning
from .meeting import Meeting
from .options import Reading
from .tenon_cuts import all_cut, fits, picked_for
from .tenon_layout import (
    BIT,
    CHEEKS,
    EDGES,
    FIT,
    GAP,
    HAUNCH,
    RELIEF,
    ROOT,
    ROW,
    THICK,
    TWIN,
    WIDTH,
    Tenon,
    laid_out,
    mortises,
)

CORE = (FIT, GAP, CHEEKS, EDGES, THICK, WIDTH, ROW, TWIN, HAUNCH, ROOT, RELIEF, BIT)
"""The options that all tenons share."""


def read_tenon(reading: Reading) -> Tenon:
    """The options that all tenons share, as written."""
    reading.not_both(CHEEKS, THICK)
    reading.not_both(EDGES, WIDTH)
    return Tenon(
        fit=reading.take(FIT),
        gap=reading.take(GAP),
        cheeks=reading.take(CHEEKS),
        edges=reading.take(EDGES),
        thick=reading.take(THICK),
        width=reading.take(WIDTH),
        row=reading.take(ROW),
        twin=reading.take(TWIN),
        haunch=reading.take(HAUNCH),
        root=reading.take(ROOT),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
    )


def cut_tenon(meeting: Meeting, options: Tenon) -> Outcome[JointCuts]:
    """The cuts of a tenon between boards square to each other."""
    layout = laid_out(meeting, options)
    if isinstance(layout, Finding):
        return Outcome(None, (layout,))
    sockets = mortises(meeting, layout, options.fit)
    if isinstance(sockets, Finding):
        return Outcome(None, (sockets,))
    picked = picked_for(meeting, layout, sockets, options)
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    bench = Bench(meeting, picked, options.relief.relief)
    cuts = all_cut(bench, layout, sockets, options)
    if isinstance(cuts, Finding):
        return Outcome(None, (cuts,))
    return finished(bench, cuts, fits(meeting, layout, sockets, options))


TENON = Family(
    name="tenon",
    title="mortise and tenon",
    words="A's end, shouldered if asked, enters a mortise in B",
    verbs=(Verb.INTO,),
    options=CORE,
    read=read_tenon,
    cut=cut_tenon,
    cut_tilted=lambda meeting, options: cut_leaning(meeting, options, cut_tenon),
)
