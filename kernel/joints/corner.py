"""How do two boards form the corner of a case, seen from the inside?

Shared by the joints that turn a corner: box and blind box joints, step joints, mitres.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..board import Axis
from ..cuts import Side
from ..finding import Finding
from ..joint_findings import NoCorner, StopsShort
from ..thresholds import SAME
from .meeting import Meeting, Part, both_sides, other_axis


@dataclass(frozen=True, slots=True)
class Corner:
    """Two boards at a corner: `along` is the pins' axis. A goes away from the corner on the side
    `a_away` and its sockets end at B's inner face there; B likewise."""

    along: Axis
    a_away: Side
    b_away: Side


def corner_of(meeting: Meeting) -> Corner | Finding:
    """How the two boards form a corner whose whole thicknesses they share, or why they do not."""
    a, b = meeting.a, meeting.b
    if a.thick == b.thick:
        return NoCorner(
            place=meeting.place,
            board=a.name,
            mate=b.name,
            family=meeting.join.family,
            parallel=True,
        )
    a_away = _away(meeting, a, b)
    if isinstance(a_away, Finding):
        return a_away
    b_away = _away(meeting, b, a)
    if isinstance(b_away, Finding):
        return b_away
    return Corner(other_axis(a.thick, b.thick), a_away, b_away)


def _away(meeting: Meeting, one: Part, other: Part) -> Side | Finding:
    """The side on which `one` leaves the corner, across the thickness of `other`.

    Its end must come to the other's outer face at least, and stand proud by no more than the
    other's thickness: farther, the boards cross.
    """
    low, high = both_sides(other.thick)
    away = high if one.beyond(high, other) > one.beyond(low, other) else low
    proud = one.beyond(away.opposite, other)
    place, family = one.ref.place or meeting.join.place, meeting.join.family
    if one.beyond(away, other) <= SAME or proud > other.box[other.thick].size:
        return NoCorner(place=place, board=one.name, mate=other.name, family=family, parallel=False)
    if proud >= -SAME:
        return away
    own_end = one.own_side(away.opposite)
    end = one.board.box[own_end.axis].hi if own_end.positive else one.board.box[own_end.axis].lo
    outer = end - proud if own_end.positive else end + proud
    return StopsShort(
        place=place,
        board=one.name,
        mate=other.name,
        family=family,
        axis=own_end.axis,
        end=end,
        face=outer,
        board_place=one.board.place,
    )
