"""Groove: `A into B with groove`.

A channel along B's face or edge takes the edge of a panel A, as deep as their boxes overlap. Where
the panel ends inside B the groove ends too; a panel held on four sides has four such grooves.

Defaults. `relief long`: the groove runs on past the panel's square corners until the cutter's
fillets clear them, r - sqrt(2 r s - s^2) past them where the walls stand s off the panel; out of
sight in a carcase. `fit` 0.1 mm in all. `gap` 0: a panel of solid wood wants room to move, which
the boards' sizes or `gap` give. A depth of 6 to 10 mm is usual (common practice).
"""

from __future__ import annotations

from fractions import Fraction

from ..design import Verb
from ..relief import Relief
from .channel import Channel, cut_channel
from .family import Family
from .options import Reading, bit_named, length, relief

FIT = length("fit", Fraction(1, 10), "0.1mm", "width of the groove less A's thickness")
GAP = length("gap", Fraction(0), "0mm", "room left under A's edge")
RELIEF = relief(Relief.LONG, tuple(Relief))
BIT = bit_named("bit", "the straight bit that cuts the groove")


def _read(reading: Reading) -> Channel:
    return Channel(
        fit=reading.take(FIT),
        gap=reading.take(GAP),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
    )


GROOVE = Family(
    name="groove",
    title="groove",
    words="a channel along B takes the edge of panel A",
    verbs=(Verb.INTO,),
    options=(FIT, GAP, RELIEF, BIT),
    read=_read,
    cut=cut_channel,
)
