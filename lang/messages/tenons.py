"""The words of codes J281 to J288: tongues and tenons."""

from __future__ import annotations

from collections.abc import Mapping

from ...kernel.figures import figure, mm
from ...kernel.finding import Finding, Place
from ...kernel.tenon_findings import (
    HaunchAmiss,
    LeansTooFar,
    NotWhereItLeans,
    PegMissesTenon,
    ShortLip,
    TiltNotFlat,
    WedgesNeedThrough,
    WedgesSplit,
)
from . import Wording
from .words import Edit, Help, Label, Words


def _places(*labels: tuple[Place | None, str]) -> tuple[Label, ...]:
    return tuple(Label(place, text) for place, text in labels if place is not None)


def _degrees(value: float) -> str:
    return f"{figure(value)}deg"


def _lip(finding: ShortLip) -> Words:
    if finding.mended is None:
        help_ = Help(f"let `{finding.board}` go on past `{finding.mate}` until the lip is wide")
    else:
        edit = (
            None if finding.value_place is None else Edit(finding.value_place, mm(finding.mended))
        )
        help_ = Help(f"make the tongue {mm(finding.mended)} thick", edit)
    other = Help("or take both shoulders off the outer face: `shoulders lo` or `hi`")
    return Words(
        title=f"the lip of `{finding.board}` beside the tongue of `{finding.mate}` is only "
        f"{mm(finding.lip)} thick",
        label=f"a third of the thickness, {mm(finding.least)}, holds (common practice)",
        others=_places(
            (finding.board_place, f"grain runs along {finding.axis.letter}, over the lip")
        ),
        help=(help_,) if finding.one_sided else (help_, other),
    )


def _tilt(finding: TiltNotFlat) -> Words:
    return Words(
        title=f"`{finding.board}` leans over its faces, where no straight bit cuts a "
        f"`{finding.family}`",
        label=f"{_degrees(finding.degrees)} about its {finding.lean.letter}",
        others=_places((finding.board_place, "turned here")),
        notes=("a board may lean in the plane of its own faces, or be turned about its length",),
        help=(
            Help(
                f"turn it about its own {finding.wanted.letter}, or make the board with its face "
                "the other way"
            ),
        ),
    )


def _too_far(finding: LeansTooFar) -> Words:
    more = f", less {mm(finding.shoulders)} of shoulders" if finding.shoulders else ""
    label = (
        f"{mm(finding.width)} wide{more}; {mm(finding.depth)} deep nothing of it is left"
        if finding.depth > 0
        else f"its end does not reach into `{finding.mate}` over its whole width"
    )
    return Words(
        title=f"`{finding.board}` leans {_degrees(finding.degrees)}, which leaves no tenon",
        label=label,
        others=_places((finding.board_place, "its width and its turn decide")),
        help=(
            Help("make it wider, or let it lean less")
            if finding.depth > 0
            else Help(f"let `{finding.board}` run on into `{finding.mate}`"),
        ),
    )


def _not_here(finding: NotWhereItLeans) -> Words:
    told = finding.option if finding.value is None else f"{finding.option} {finding.value}"
    help_ = Help(f"do without `{finding.option}` there")
    if finding.instead is not None:
        edit = None if finding.value_place is None else Edit(finding.value_place, finding.instead)
        help_ = Help(f"write `{finding.option} {finding.instead}`", edit)
    return Words(
        title=f"`{told}` is not for a board that leans",
        label=f"`{finding.board}` leans {_degrees(finding.degrees)}: no straight cut makes it",
        help=(help_,),
    )


def _haunch(finding: HaunchAmiss) -> Words:
    if not finding.shoulder:
        return Words(
            title=f"the haunch of `{finding.board}` has no shoulder to stand on",
            label="a haunch is what of an edge shoulder enters too",
            help=(Help("add `edges 10mm`, or a list that has the shoulder on one edge"),),
        )
    third = mm(finding.depth / 3)
    edit = None if finding.value_place is None else Edit(finding.value_place, third)
    return Words(
        title=f"the haunch of `{finding.board}` goes as deep as its tenon",
        label=f"{mm(finding.haunch)} for the haunch, {mm(finding.depth)} for the tenon",
        help=(Help(f"make it a third as deep, {third} (common practice)", edit),),
    )


def _through(finding: WedgesNeedThrough) -> Words:
    letter = finding.axis.letter
    return Words(
        title=f"no wedge gets to the tenon of `{finding.board}`: it ends inside `{finding.mate}`",
        label=f"it ends {mm(finding.short)} before the far face",
        others=_places((finding.board_place, f"the span along {letter} decides")),
        help=(
            Help(f"let `{finding.board}` run on by {mm(finding.short)} along {letter}, or more"),
            Help("or join them with `tenon`, without wedges"),
        ),
    )


def _split(finding: WedgesSplit) -> Words:
    return Words(
        title=f"the wedges of `{finding.board}` press `{finding.mate}` apart across its grain",
        label=f"they spread the tenon along {finding.axis.letter}, the grain runs the other way",
        help=(
            Help(
                f"turn `{finding.board}` so that its width runs with the grain of `{finding.mate}`"
            ),
            Help("or hold the tenon with `pegged_tenon`"),
        ),
    )


def _peg(finding: PegMissesTenon) -> Words:
    if finding.along == "draw":
        edit = None if finding.value_place is None else Edit(finding.value_place, mm(finding.room))
        return Words(
            title=f"a peg of {mm(finding.diameter)} does not find its way with so much draw",
            label=f"{mm(finding.needed)} of draw; a quarter of the peg at most, "
            f"{mm(finding.room)} (common practice)",
            help=(Help(f"draw it {mm(finding.room)} at most", edit),),
        )
    return Words(
        title=f"a peg of {mm(finding.diameter)} has no room in the tenon of `{finding.board}`",
        label=f"{mm(finding.needed)} are wanted along its {finding.along}, "
        f"there are {mm(finding.room)}",
        help=(Help("use a thinner peg, fewer pegs or less draw, or make the tenon larger"),),
    )


WORDS: Mapping[type[Finding], Wording] = {
    ShortLip: _lip,
    TiltNotFlat: _tilt,
    LeansTooFar: _too_far,
    NotWhereItLeans: _not_here,
    HaunchAmiss: _haunch,
    WedgesNeedThrough: _through,
    WedgesSplit: _split,
    PegMissesTenon: _peg,
}
