"""Tongued corner (dado and rabbet): `A into B with tongued_corner`.

At the corner of a case or drawer a rabbet on A's end leaves a tongue beside A's inner face, which
enters a dado in B's inside. A's outer face comes to B's end, or near it:

    +----------------------
    |           B
    |   +---+               A's tongue in its dado; the lip of B beside it is as
    +---+   +-----------    thick as A's rabbet is deep
    |       |
    |   A   |

The rabbet is on the side of A that B's end is nearer to, so the lip beside the dado is as thick as
can be: two thirds of A with the default tongue. It holds A against a pull in B's plane, as a drawer
side holds its back. All is cut from A's outer and B's inner face.

Defaults. `thick` a third of A's thickness. The rest as in tongue and groove (`tongue.py`).
"""

from __future__ import annotations

from dataclasses import replace

from ..design import Verb
from ..finding import Finding, Outcome
from ..joint_findings import NoCorner
from ..thresholds import SAME
from .family import Family, JointCuts
from .meeting import Meeting, both_sides
from .options import Reading
from .tongue import BIT, FIT, GAP, RELIEF, STOP, THICK, On, Tongue, cut_tongue


def _read(reading: Reading) -> Tongue:
    return Tongue(
        thick=reading.take(THICK),
        shoulders=On.BOTH,
        fit=reading.take(FIT),
        gap=reading.take(GAP),
        stop=reading.take(STOP),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
    )


def _cut(meeting: Meeting, options: Tongue) -> Outcome[JointCuts]:
    outside = _outside(meeting)
    if isinstance(outside, Finding):
        return Outcome(None, (outside,))
    return cut_tongue(meeting, replace(options, shoulders=outside))


def _outside(meeting: Meeting) -> On | Finding:
    """The face of A that B's nearer end lies beyond, which gets the rabbet."""
    a, b = meeting.a, meeting.b
    low, high = (b.beyond(side, a) for side in both_sides(a.thick))
    if a.thick == b.thick or abs(low - high) < SAME:
        return NoCorner(
            place=meeting.place,
            board=b.name,
            mate=a.name,
            family=meeting.join.family,
            parallel=a.thick == b.thick,
        )
    return On.LO if low < high else On.HI


TONGUED_CORNER = Family(
    name="tongued_corner",
    title="tongued corner",
    words="a rabbet leaves a tongue on A's end, which enters a dado near B's",
    verbs=(Verb.INTO,),
    options=(THICK, FIT, GAP, STOP, RELIEF, BIT),
    read=_read,
    cut=_cut,
)
