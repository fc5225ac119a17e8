"""Dado (housing): `A into B with dado`.

A channel across B's face takes the full thickness of A, as deep as their boxes overlap. It runs
through where A is as wide as B; where A ends short of B's edge the channel stops there. `stop`
makes it stop short of A's own edge too: A is notched and covers the channel's end.

Defaults. `fit` 0.1 mm: 0.1 to 0.2 mm over the thickness for a slip joint in solid wood, 0.15 to 0.3
over the measured thickness in plywood (common practice). `relief corner` for stopped ends. `gap` 0:
A stands on the floor. A depth of a quarter to a third of B's thickness is usual; it follows from
the boards.
"""

from __future__ import annotations

from fractions import Fraction

from ..design import Verb
from ..relief import Relief
from .channel import Channel, cut_channel
from .family import Family
from .options import Reading, bit_named, length, relief, stops

FIT = length("fit", Fraction(1, 10), "0.1mm", "width of the channel less A's thickness")
GAP = length("gap", Fraction(0), "0mm", "room left under A's end")
RELIEF = relief(Relief.CORNER, tuple(Relief))
BIT = bit_named("bit", "the straight bit that cuts the channel")
STOP = stops("stop", "how far short of A's edge the channel stops: `lo`, `hi` or `both` ends")


def _read(reading: Reading) -> Channel:
    return Channel(
        fit=reading.take(FIT),
        gap=reading.take(GAP),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
        stop=reading.take(STOP),
    )


DADO = Family(
    name="dado",
    title="dado",
    words="a channel across B takes the full thickness of A",
    verbs=(Verb.INTO,),
    options=(FIT, GAP, STOP, RELIEF, BIT),
    read=_read,
    cut=cut_channel,
)
