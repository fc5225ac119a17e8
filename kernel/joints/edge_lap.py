"""Edge lap (egg-crate): `A across B with edge_lap`, for boards that cross on edge.

A and B stand across each other and share a bar as thick as both. Each is slotted from its edge as
far as the other's wood is left, so that one drops over the other: A from its low edge where it
lies over, B from its high one. The slots are cut right through from a face.

Fit. A slot is `fit` wider than the mate's thickness; `gap` is left where the two slots meet.

Defaults. `fit` 0.1 mm: 0.1 to 0.2 mm over the thickness in solid wood, 0.15 to 0.3 over the
measured thickness in plywood (common practice). `deep` half of what they share. `relief corner`: a
round bit leaves fillets at the slot's end.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from ..cuts import Cut, Side
from ..design import Verb
from ..finding import Finding, Outcome
from ..relief import Relief
from .bits import pick
from .carve import Bench, Socket, Wall, demand, dug, finished, plays, rounded
from .family import Family, JointCuts
from .lap import BIT, DEEP, OVER, Lap, halves, otherwise
from .meeting import Meeting, both_sides, other_axis
from .options import Reading, length, relief

FIT = length("fit", Fraction(1, 10), "0.1mm", "width of each slot less the mate's thickness")
GAP = length("gap", Fraction(0), "0mm", "room left where the two slots meet")
RELIEF = relief(Relief.CORNER, tuple(kind for kind in Relief if kind is not Relief.HALF_ROUND))


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeLap:
    gap: Fraction
    lap: Lap


def _read(reading: Reading) -> EdgeLap:
    lap = Lap(
        fit=reading.take(FIT),
        deep=reading.take(DEEP),
        over=reading.take(OVER),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
    )
    return EdgeLap(gap=reading.take(GAP), lap=lap)


def _cut(meeting: Meeting, options: EdgeLap) -> Outcome[JointCuts]:
    a, b, lap = meeting.a, meeting.b, options.lap
    if a.thick == b.thick:
        return Outcome(None, (otherwise(meeting, "lap", flat=True),))
    notches = halves(meeting, other_axis(a.thick, b.thick), lap)
    if isinstance(notches, Finding):
        return Outcome(None, (notches,))
    slots = tuple(_slot(notch, lap.fit, options.gap) for notch in notches)
    picked = pick(meeting, lap.bit, lap.relief, demand(*slots))
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    bench = Bench(meeting, picked, lap.relief.relief)
    cuts: list[Cut] = []
    for slot in slots:
        cut = dug(bench, slot)
        if isinstance(cut, Finding):
            return Outcome(None, (cut,))
        cuts.extend((cut, *rounded(bench, slot)))
    matings = [mating for slot in slots for mating in plays(meeting, slot, lap.fit)]
    return finished(bench, cuts, matings)


def _slot(notch: Socket, fit: Fraction, gap: Fraction) -> Socket:
    """The notch as a slot through the board's thickness: two flanks, where the board goes on, and
    the end that the mate's wood comes to."""
    host, guest = notch.host, notch.guest
    end = Wall(notch.side.opposite, gap / 2)
    flanks = (
        Wall(side, fit / 2)
        for side in both_sides(guest.thick)
        if not host.reaches(side, notch.wood)
    )
    return replace(
        notch,
        side=Side(host.thick, True),
        walls=(*flanks, end),
        run=notch.side.axis,
        through=True,
        wood=notch.wood,
    )


EDGE_LAP = Family(
    name="edge_lap",
    title="edge lap",
    words="boards on edge cross, each slotted half way from its edge",
    verbs=(Verb.ACROSS,),
    options=(FIT, GAP, DEEP, OVER, RELIEF, BIT),
    read=_read,
    cut=_cut,
)
