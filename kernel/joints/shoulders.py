"""What comes off a board's end or edge to leave a tongue or a tenon.

Shoulders are measured from the board's own surface, so that what they leave follows the thickness
delivered. On the faces they are pockets (`cheeks`), on the edges notches right through.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TypeAlias

from ..board import Axis, Box
from ..cuts import Cut, Side
from ..finding import Finding
from ..joint_findings import NoTenonLeft, WrongSize
from ..relief import Relief
from .carve import Bench, Step, stepped
from .meeting import Meeting, Part, at, both_sides, moved, with_face
from .options import OptionSpec, written_at
from .tilted import TiltedMeeting

Pair: TypeAlias = tuple[Fraction, Fraction]
"""Figures for the low and the high side of a board."""

NO_SHOULDERS: Pair = (Fraction(0), Fraction(0))


def within(box: Box, section: Box, axis: Axis, taken: Pair) -> Box:
    """`box` with the span of a board's section along `axis`, less what is taken at its sides."""
    for side, off in zip(both_sides(axis), taken, strict=True):
        box = moved(with_face(box, side, at(section, side)), side, -off)
    return box


def in_the_middle(
    meeting: Meeting | TiltedMeeting,
    part: Part,
    whole: Fraction,
    size: Fraction,
    option: OptionSpec[Fraction | None],
) -> Pair | Finding:
    """The shoulders that leave `size` of the `whole` in the middle."""
    if size <= whole:
        return (whole - size) / 2, (whole - size) / 2
    return WrongSize(
        place=meeting.option_place(option.name),
        option=option.name,
        board=part.name,
        value=size,
        size=whole,
        value_place=written_at(meeting.join, option.name),
    )


def left_by(
    meeting: Meeting | TiltedMeeting,
    part: Part,
    whole: Fraction,
    pair: Pair,
    option: OptionSpec[Pair | None],
) -> Pair | Finding:
    """The shoulders as asked, when they leave anything of the `whole`."""
    if sum(pair) < whole:
        return pair
    return NoTenonLeft(
        place=meeting.option_place(option.name),
        option=option.name,
        board=part.name,
        size=whole,
        shoulders=sum(pair, Fraction(0)),
        value_place=written_at(meeting.join, option.name),
    )


def cheeks_off(bench: Bench, part: Part, mate: Part, entry: Side, pair: Pair) -> tuple[Cut, ...]:
    """The pockets on the board's two faces that leave it thinner where it enters its mate from the
    mate's side `entry`."""
    end = with_face(part.box, entry, mate.face(entry))
    square = Bench(bench.meeting, bench.picked, Relief.NONE)
    cuts = []
    for side, off in zip(both_sides(part.thick), pair, strict=True):
        if off:
            box = moved(with_face(end, side.opposite, at(end, side)), side.opposite, off)
            step = Step(host=part, mate=mate, side=side, box=box, run=entry.axis)
            cuts.append(stepped(square, step))
    return tuple(cuts)
