"""The words of codes J261 to J271: laps, bridles, mitres, dovetails, dowels, puzzle joints."""

from __future__ import annotations

from collections.abc import Mapping

from ...kernel.crossing_findings import (
    BitMissesMitre,
    BoreBreaksOut,
    DovetailTooDeep,
    LeavesNoWood,
    LiesOtherwise,
    NoEndToFork,
    NoOpenEnd,
    NotEndToEnd,
    PiecesCrowd,
    SlotBreaksOut,
    StandsProud,
)
from ...kernel.figures import figure, mm
from ...kernel.finding import Finding, Place
from . import Wording
from .words import Edit, Help, Label, Words


def _places(*labels: tuple[Place | None, str]) -> tuple[Label, ...]:
    return tuple(Label(place, text) for place, text in labels if place is not None)


def _otherwise(finding: LiesOtherwise) -> Words:
    lie = "lie in one plane" if finding.flat else "stand across each other"
    edit = None if finding.place is None else Edit(finding.place, finding.other)
    return Words(
        title=f"`{finding.board}` and `{finding.mate}` {lie}, which is no `{finding.family}`",
        label="not for boards that lie so",
        help=(Help(f"join them with `{finding.other}`", edit),),
    )


def _no_wood(finding: LeavesNoWood) -> Words:
    too = (
        f"the notch would be {mm(finding.depth)} deep in {mm(finding.size)}"
        if finding.depth > 0
        else "its notch would begin beyond the board"
    )
    edit = None
    if finding.value_place is not None:
        edit = Edit(finding.value_place, mm(finding.half))
    help_ = Help(f"cut it {mm(finding.half)} deep, half of what they share", edit)
    if not finding.written:
        help_ = Help("let the other board lie over: `over first` or `over second`")
    return Words(
        title=f"the `{finding.family}` leaves nothing of `{finding.board}`",
        label=too,
        help=(help_,),
    )


def _fork(finding: NoEndToFork) -> Words:
    return Words(
        title=f"`{finding.board}` has no end at `{finding.mate}` to fork",
        label=f"`{finding.board}` must end in the width of `{finding.mate}` and run across it",
        others=_places((finding.board_place, f"`{finding.board}` is here")),
        help=(
            Help(f"write `{finding.board} into {finding.mate}` if `{finding.mate}` ends there"),
            Help("or join boards that both go on with `across … with lap`"),
        ),
    )


def _deep(finding: DovetailTooDeep) -> Words:
    left = (
        f"`{finding.board}` is too thin for a tail with a root"
        if finding.of_tail
        else f"`{finding.bit}` has no neck left at the face"
    )
    most = figure(max(int(finding.most * 10 - 1), 0) / 10)
    return Words(
        title=f"a dovetail {mm(finding.depth)} deep is too deep for "
        f"{'`' + finding.board + '`' if finding.of_tail else '`' + finding.bit + '`'}",
        label=f"walls lean {figure(finding.angle)} degrees: {left}",
        others=_places((finding.bit_place, "this bit")),
        help=(
            Help(f"let `{finding.board}` enter `{finding.mate}` by {most}mm at most"),
            Help("or use a bit that leans less" + ("" if finding.of_tail else ", or a wider one")),
        ),
    )


def _bore(finding: BoreBreaksOut) -> Words:
    way = "wide" if finding.across else "deep"
    if finding.option == "set":
        way = "from the end"
    if finding.option == "long":
        way = "long"
    return Words(
        title=f"a hole for `{finding.family}` breaks out of `{finding.board}`",
        label=f"{mm(finding.asked)} {way}, there is room for {mm(finding.most)}",
        others=_places((finding.board_place, f"`{finding.board}` is here")),
        help=(_less(finding),),
    )


def _less(finding: BoreBreaksOut) -> Help:
    if finding.most <= 0:
        return Help("use a thicker board, or another joint")
    edit = None
    if finding.value_place is not None:
        edit = Edit(finding.value_place, mm(finding.most))
    return Help(f"write `{finding.option} {mm(finding.most)}`, or less", edit)


def _crowd(finding: PiecesCrowd) -> Words:
    can = f"{finding.most} at most" if finding.most else "none"
    edit = None
    if finding.value_place is not None and finding.most > 0:
        edit = Edit(finding.value_place, str(finding.most))
    wanted = f"{finding.count} {finding.option if finding.option == 'knobs' else 'pieces'}"
    helps = (Help(f"write `{finding.option} {finding.most}`", edit),) if finding.most else ()
    return Words(
        title=f"there is no room for {wanted}: {can}",
        label=f"{mm(finding.room)} of room, {mm(finding.apart)} from middle to middle at least",
        help=helps or (Help("give the joint more width, or take smaller pieces"),),
    )


def _closed(finding: NoOpenEnd) -> Words:
    return Words(
        title=f"`{finding.board}` cannot slide into `{finding.mate}`",
        label="the slot comes out at neither edge",
        others=_places((finding.board_place, f"`{finding.board}` ends inside `{finding.mate}`")),
        help=(
            Help(
                f"let `{finding.board}` come to an edge of `{finding.mate}`, and stop the slot at "
                "one end alone"
            ),
        ),
    )


def _mitre_bit(finding: BitMissesMitre) -> Words:
    wanted = figure(finding.wanted, 2)
    if finding.covers is None:
        has = "no angle" if finding.angle is None else f"{figure(finding.angle)} degrees"
        label = f"`{finding.bit}` has {has}, the mitre asks for {wanted}"
    else:
        covers, thick = mm(finding.covers), mm(finding.thick)
        label = f"`{finding.bit}` cuts {covers} deep, the board is {thick} thick"
    return Words(
        title=f"`{finding.bit}` cannot cut this mitre",
        label=label,
        others=_places((finding.bit_place, "this bit")),
        help=(Help("name no bit, and the mitre is sawn by hand"),),
    )


def _slot(finding: SlotBreaksOut) -> Words:
    left = f"leaves {mm(finding.left)}" if finding.left > 0 else "comes out at a face"
    help_ = Help("use a thinner spline, or a thicker board")
    if finding.most is not None:
        most = f"{figure(int(finding.most * 10) / 10)}mm"
        edit = None if finding.value_place is None else Edit(finding.value_place, most)
        help_ = Help(f"a spline {most} wide leaves {mm(finding.least)}", edit)
    return Words(
        title=f"the slot for a spline {mm(finding.width)} wide {left} in `{finding.board}`",
        label=f"{mm(finding.least)} at least must stay at either face",
        help=(help_,),
    )


def _proud(finding: StandsProud) -> Words:
    letter = finding.axis.letter
    return Words(
        title=f"`{finding.board}` goes {mm(finding.proud)} past the outer face of `{finding.mate}`",
        label=f"a `{finding.family}` ends at the outside edge of the corner",
        others=_places((finding.board_place, f"the span along {letter} decides")),
        help=(Help(f"let `{finding.board}` end at {letter} = {mm(finding.face)}"),),
    )


def _end_to_end(finding: NotEndToEnd) -> Words:
    return Words(
        title=f"`{finding.board}` and `{finding.mate}` do not lie end to end, flush",
        label=f"`{finding.family}` takes boards of one width and thickness in one line",
        help=(Help("let their spans across agree, and overlap along the length by the knobs"),),
    )


WORDS: Mapping[type[Finding], Wording] = {
    LiesOtherwise: _otherwise,
    LeavesNoWood: _no_wood,
    NoEndToFork: _fork,
    DovetailTooDeep: _deep,
    BoreBreaksOut: _bore,
    PiecesCrowd: _crowd,
    NoOpenEnd: _closed,
    BitMissesMitre: _mitre_bit,
    SlotBreaksOut: _slot,
    StandsProud: _proud,
    NotEndToEnd: _end_to_end,
}
