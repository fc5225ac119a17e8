"""Tongue and groove: `A into B with tongue`.

A's edge or end is left as a tongue that enters a groove in B as deep as the boxes overlap. Between
two boards edge to edge the groove runs in B's edge; at the corner of a case it runs in B's face,
beside B's end. `shoulders` says on which of A's faces wood comes off: on `both`, or on one, `lo` or
`hi`, which leaves the tongue flush with the other face. `stop` makes the groove stop short of A's
edge; A is notched and covers its end.

At the corner of a case a lip of B stands between groove and end. Its grain is short: it breaks off
when it is thinner than about a third of the thickness (common practice), which is told.

Defaults. `thick` a third of A's thickness, `shoulders both`: what a groove leaves on either side of
it is then as strong as the tongue (common practice). `fit` 0.1 mm. `gap` 0.5 mm under the tongue,
so that the shoulders close. `relief corner` for groove ends that stop.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction

from ..design import Verb
from ..finding import Finding, Outcome
from ..relief import Relief
from ..tenon_findings import ShortLip
from ..thresholds import SAME, SHORT_GRAIN_LIP_SHARE
from .channel import Channel, cut_channel, entering
from .family import Family, JointCuts
from .meeting import Meeting, at, both_sides
from .options import (
    NamedBit,
    Reading,
    ReliefAsked,
    Stops,
    above_zero,
    bit_named,
    choice,
    length,
    relief,
    stops,
    written_at,
)
from .shoulders import Pair, in_the_middle, within


class On(Enum):
    """On which of a board's faces a shoulder is."""

    BOTH = "both"
    LO = "lo"
    HI = "hi"


THICK = above_zero("thick", None, "a third of A's", "how thick the tongue is")
SHOULDERS = choice("shoulders", On.BOTH, "which faces of A have a shoulder: `both`, `lo` or `hi`")
FIT = length("fit", Fraction(1, 10), "0.1mm", "width of the groove less the tongue's thickness")
GAP = length("gap", Fraction(1, 2), "0.5mm", "room left under the tongue")
STOP = stops("stop", "how far short of A's edge the groove stops: `lo`, `hi` or `both` ends")
RELIEF = relief(Relief.CORNER, tuple(Relief))
BIT = bit_named("bit", "the straight bit that cuts groove and shoulders")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tongue:
    """Lengths in mm; `thick` None for the default share of A's thickness."""

    thick: Fraction | None
    shoulders: On
    fit: Fraction
    gap: Fraction
    stop: Stops
    relief: ReliefAsked
    bit: NamedBit | None


def _read(reading: Reading) -> Tongue:
    return Tongue(
        thick=reading.take(THICK),
        shoulders=reading.take(SHOULDERS),
        fit=reading.take(FIT),
        gap=reading.take(GAP),
        stop=reading.take(STOP),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
    )


def cut_tongue(meeting: Meeting, options: Tongue) -> Outcome[JointCuts]:
    """The groove in B, the shoulders on A, and a warning for each lip that is too thin."""
    cheeks = _cheeks(meeting, options)
    if isinstance(cheeks, Finding):
        return Outcome(None, (cheeks,))
    channel = Channel(
        fit=options.fit,
        gap=options.gap,
        relief=options.relief,
        bit=options.bit,
        stop=options.stop,
        cheeks=cheeks,
    )
    made = cut_channel(meeting, channel)
    if made.value is None:
        return made
    return replace(made, findings=(*made.findings, *_short_lips(meeting, cheeks, options)))


def _cheeks(meeting: Meeting, options: Tongue) -> Pair | Finding:
    """What comes off A's low and high face."""
    whole = meeting.a.box[meeting.a.thick].size
    size = whole / 3 if options.thick is None else options.thick
    pair = in_the_middle(meeting, meeting.a, whole, size, THICK)
    if isinstance(pair, Finding):
        return pair
    low, high = pair
    match options.shoulders:
        case On.BOTH:
            return low, high
        case On.LO:
            return low + high, Fraction(0)
        case On.HI:
            return Fraction(0), low + high


def _short_lips(meeting: Meeting, cheeks: Pair, options: Tongue) -> tuple[Finding, ...]:
    """A warning for each lip beside the groove whose grain is short and that is too thin.

    A lip is measured from the tongue itself: half the fit more or less breaks none.
    """
    a, b = meeting.a, meeting.b
    side = entering(meeting)
    if isinstance(side, Finding) or a.thick != b.length:
        return ()
    least = SHORT_GRAIN_LIP_SHARE * b.stock.thick
    wood = within(meeting.overlap, a.box, a.thick, cheeks)
    found = []
    for edge in both_sides(a.thick):
        lip = abs(b.face(edge) - at(wood, edge))
        if lip < least - Fraction(SAME):
            found.append(
                ShortLip(
                    place=meeting.option_place(THICK.name),
                    board=b.name,
                    mate=a.name,
                    axis=b.own.axis(edge.axis)[0],
                    lip=lip,
                    least=least,
                    thick=wood[a.thick].size,
                    mended=_thinner(wood[a.thick].size, least - lip, options.shoulders),
                    one_sided=options.shoulders is not On.BOTH,
                    value_place=written_at(meeting.join, THICK.name),
                    board_place=b.board.place,
                )
            )
    return tuple(found)


def _thinner(thick: Fraction, missing: Fraction, shoulders: On) -> Fraction | None:
    """How thick a tongue leaves a lip `missing` mm thicker; None when nothing would be left.

    A shoulder on one face takes all that the tongue gives up, each of two takes half.
    """
    left = thick - missing * (2 if shoulders is On.BOTH else 1)
    return left if left > 0 else None


TONGUE = Family(
    name="tongue",
    title="tongue and groove",
    words="a tongue on A's edge enters a groove in B",
    verbs=(Verb.INTO,),
    options=(THICK, SHOULDERS, FIT, GAP, STOP, RELIEF, BIT),
    read=_read,
    cut=cut_tongue,
)
