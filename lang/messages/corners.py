"""The words of codes J241 to J246: box and blind box joints, step joints, drawer locks."""

from __future__ import annotations

from collections.abc import Mapping

from ...kernel.corner_findings import (
    EvenPins,
    NoLip,
    PegPastPin,
    SkinTooThick,
    SliverPin,
    StepsCrowd,
)
from ...kernel.figures import mm
from ...kernel.finding import Finding, Place
from . import Wording
from .words import Edit, Help, Label, Words


def _places(*labels: tuple[Place | None, str]) -> tuple[Label, ...]:
    return tuple(Label(place, text) for place, text in labels if place is not None)


def _edit(place: Place | None, text: str) -> Edit | None:
    return None if place is None else Edit(place, text)


def _sliver(finding: SliverPin) -> Words:
    which = "the outer pin" if finding.outer else "a pin"
    if finding.count is not None:
        way = Help(
            f"take {finding.count} pins at most",
            _edit(finding.value_place, str(finding.count)),
        )
    elif finding.size is not None:
        way = Help(
            f"make the pins {mm(finding.size)} wide",
            _edit(finding.value_place, mm(finding.size)),
        )
    else:
        way = Help("give its width to its neighbours, or take fewer pins")
    return Words(
        title=f"{which} of `{finding.board}` is a sliver {mm(finding.width)} wide",
        label=f"a third of its length, {mm(finding.least)}, holds (common practice)",
        others=_places((finding.board_place, f"pins lie along {finding.axis.letter}")),
        help=(way,),
    )


def _even(finding: EvenPins) -> Words:
    more = finding.count + 1
    return Words(
        title=f"{finding.count} pins cannot be symmetric",
        label=f"an even count: `{finding.board}` has the pin at one end, `{finding.mate}` at the "
        "other",
        help=(Help(f"take an odd count, such as {more}", _edit(finding.value_place, str(more))),),
    )


def _skin(finding: SkinTooThick) -> Words:
    left = "no finger" if finding.left <= 0 else f"fingers of only {mm(finding.left)}"
    mended = mm(finding.mended)
    return Words(
        title=f"a skin of {mm(finding.cover)} leaves {left} on `{finding.board}`",
        label=f"`{finding.board}` is {mm(finding.thick)} thick",
        help=(
            Help(
                f"write `cover {mended}`"
                + (": it survives sanding (common practice)" if finding.mended >= 3 else ""),
                _edit(finding.value_place, mended),
            ),
        ),
    )


def _steps(finding: StepsCrowd) -> Words:
    size, room = mm(finding.size), mm(finding.room)
    if finding.bit is None or finding.radius is None:
        title = f"{finding.steps} steps of {size} are too fine to cut"
        label = f"a step of {room} is the least (common practice)"
    else:
        title = f"corners of {finding.steps} steps get in each other's way"
        label = (
            f"`{finding.board}` is wider than `{finding.mate}`: with `{finding.bit}` the end of "
            f"each step takes {room}, a step is {size}"
        )
    fewer: tuple[Help, ...] = ()
    if finding.most is not None:
        fewer = (
            Help(
                f"take {finding.most} steps at most",
                _edit(finding.value_place, str(finding.most)),
            ),
        )
    wider = () if finding.bit is None else (Help("or use a smaller bit, or boards of one width"),)
    return Words(
        title=title,
        label=label,
        others=_places(
            (finding.bit_place, "" if finding.radius is None else f"radius {mm(finding.radius)}")
        ),
        help=(*fewer, *wider) or (Help("join these boards with a mitre"),),
    )


def _peg(finding: PegPastPin) -> Words:
    deep = finding.option != "peg"
    there = f"a pin {'is' if deep else 'has'} {mm(finding.has)} {'thick' if deep else 'there'}"
    way = Help("make the pins wider, or leave the pegs out")
    if finding.most > 0:
        way = Help(
            f"write `{finding.option} {mm(finding.most)}`, or less",
            _edit(finding.value_place, mm(finding.most)),
        )
    return Words(
        title=f"a peg's recess {mm(finding.asked)} {'deep' if deep else 'wide'} does not stay in "
        f"its pin of `{finding.board}`",
        label=f"{there}, and 2mm of wood must stay {'under' if deep else 'round'} it",
        help=(way,),
    )


def _lip(finding: NoLip) -> Words:
    letter = finding.axis.letter
    past = "flush with" if finding.past == 0 else f"{mm(finding.past)} past"
    return Words(
        title=f"`{finding.mate}` has no lip to cover the end of `{finding.board}`",
        label=f"`{finding.board}` ends {past} its outer face at {letter} = {mm(finding.face)}",
        others=_places((finding.board_place, f"the span along {letter} decides")),
        help=(
            Help(
                f"let `{finding.board}` end {mm(finding.lip + finding.past)} earlier: a lip of a "
                "third of the thickness holds (common practice)"
            ),
        ),
    )


WORDS: Mapping[type[Finding], Wording] = {
    SliverPin: _sliver,
    EvenPins: _even,
    SkinTooThick: _skin,
    StepsCrowd: _steps,
    PegPastPin: _peg,
    NoLip: _lip,
}
