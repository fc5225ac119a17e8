"""The words of B2xx codes: cuts that belong to one board."""

from __future__ import annotations

from collections.abc import Mapping

from ...kernel.figures import mm
from ...kernel.finding import Finding, Place
from ...kernel.shaping_findings import (
    Bound,
    BreaksOut,
    DeeperThanBoard,
    FiguresClash,
    PlaceAmiss,
    Placing,
    Sides,
    TakesNothing,
    UnknownCut,
    WrongSide,
)
from . import Wording
from .words import Edit, Help, Label, Words

BOUNDS: Mapping[Bound, str] = {
    Bound.HALF_THE_WIDTH: "half the width",
    Bound.HOLE: "the hole under the seat",
    Bound.SEAT: "the seat's own depth",
    Bound.LENGTH: "the length over all",
    Bound.ROOM: "the room that there is",
    Bound.BIT: "what the bit named can do",
    Bound.THICKNESS: "the wood at the edge",
}
"""What holds a figure, in words that go on with its own."""


def _named(names: tuple[str, ...]) -> str:
    return ", ".join(f"`{name}`" for name in names)


def _one_of(names: tuple[str, ...]) -> str:
    return " or ".join(part for part in (_named(names[:-1]), _named(names[-1:])) if part)


def _places(*labels: tuple[Place | None, str]) -> tuple[Label, ...]:
    return tuple(Label(place, text) for place, text in labels if place is not None)


def _cut(finding: UnknownCut) -> Words:
    ways: list[Help] = []
    if finding.nearest is not None:
        edit = None if finding.place is None else Edit(finding.place, finding.nearest)
        ways.append(Help(f"did you mean `{finding.nearest}`?", edit))
    if finding.is_joint:
        ways.append(Help(f"`{finding.cut}` is a joint: `join A into B with {finding.cut}`"))
    return Words(
        title=f"no cut is called `{finding.cut}`",
        label="a joint, which takes two boards" if finding.is_joint else "not a cut",
        notes=(f"cuts: {_named(finding.known)}",),
        help=tuple(ways),
    )


def _side(finding: WrongSide) -> Words:
    could = _one_of(finding.could)
    if finding.option is None:
        return Words(
            title=f"`{finding.cut}` is cut in an edge or end, not in a face",
            label=f"{finding.side} is a face of `{finding.board}`",
            help=(Help(f"cut it from {could}"),),
        )
    if not finding.side:
        return Words(
            title=f"`{finding.cut}` does not say along which edge",
            label=f"`{finding.option}` is missing",
            help=(Help(f"name the other side of the edge, {could}: `edge {finding.could[-1]}`"),),
        )
    outline = finding.sides is Sides.OUTLINE
    what = "corner" if outline else "edge"
    return Words(
        title=f"{finding.side} of `{finding.board}` makes no {what} with the side cut from",
        label=f"not a side at {'that edge' if outline else 'right angles to it'}",
        help=(Help(f"name {could}"),),
    )


def _place(finding: PlaceAmiss) -> Words:
    letter = finding.axis.letter
    if finding.across:
        return Words(
            title=f"nothing can be placed along {letter} on the side {finding.side}",
            label=f"{letter} runs into the board there; `deep` says how far",
        )
    wanted = {
        Placing.POINTS: f"a point or a list of points, `{letter} 40mm`",
        Placing.STRETCH: f"a stretch, `{letter} 40mm..120mm`",
        Placing.NOTHING: "nothing",
    }[finding.takes]
    if finding.takes is Placing.NOTHING:
        return Words(
            title=f"`{finding.cut}` is not placed along {letter}",
            label=f"its place along {letter} follows from the side",
            help=(Help(f"leave {letter} out"),),
        )
    if finding.missing:
        return Words(
            title=f"`{finding.cut}` does not say where along {letter}",
            label="its place is missing",
            help=(Help(f"put it between the side and `with`: `at {wanted.split('`')[1]}`"),),
        )
    return Words(
        title=f"along {letter} `{finding.cut}` takes {wanted}",
        label="something else stands here",
    )


def _out(finding: BreaksOut) -> Words:
    letter = finding.axis.letter
    own = f"`{finding.board}` goes from {mm(finding.board_lo)} to {mm(finding.board_hi)}"
    board = f"`{finding.board}`"
    title = f"breaks out of {board} by {mm(finding.past)}"
    if finding.past == 0:
        title = f"comes to the very edge of {board} and leaves no wood there"
    return Words(
        title=f"the `{finding.cut}` {title}",
        label=f"it goes from {letter} = {mm(finding.lo)} to {mm(finding.hi)}",
        others=_places((finding.board_place, f"{own} along {letter}")),
        help=(Help(_way_back(finding)),),
    )


def _way_back(finding: BreaksOut) -> str:
    room, size = finding.board_hi - finding.board_lo, finding.hi - finding.lo
    if size >= room:
        return f"make it smaller: there are {mm(room)} in all"
    way = "up" if finding.lo <= finding.board_lo else "down"
    by = f"{mm(finding.past)} or more " if finding.past else ""
    return f"move it {by}{way} along {finding.axis.letter}, or make it smaller"


def _deep(finding: DeeperThanBoard) -> Words:
    letter = finding.axis.letter
    ways = [Help(f"ask for less than {mm(finding.size)}")]
    if finding.can_go_through:
        ways.insert(0, Help(f"leave `{finding.option}` out to go right through"))
    return Words(
        title=f"the `{finding.cut}` goes through `{finding.board}` and leaves no wood there",
        label=f"{mm(finding.deep)} of {mm(finding.size)} along {letter}",
        others=_places((finding.board_place, f"{mm(finding.size)} along {letter}")),
        help=tuple(ways),
    )


def _nothing(finding: TakesNothing) -> Words:
    letter = finding.axis.letter
    ends = ("begins", "ends") if finding.at >= finding.end else ("ends", "begins")
    return Words(
        title=f"the `{finding.cut}` lies beside `{finding.board}` and takes nothing off it",
        label=f"it {ends[0]} at {letter} = {mm(finding.at)}",
        others=_places(
            (finding.board_place, f"`{finding.board}` {ends[1]} at {letter} = {mm(finding.end)}")
        ),
        help=(Help("positions are the design's own, not measured from the board's corner"),),
    )


def _clash(finding: FiguresClash) -> Words:
    limit = mm(finding.limit)
    if finding.exactly:
        must = f"must be {limit}"
    elif finding.is_least:
        must = f"must be more than {limit}"
    else:
        must = f"can be {limit} at most"
    return Words(
        title=f"`{finding.option}` of `{finding.cut}` {must}, {BOUNDS[finding.bound]}",
        label=f"{mm(finding.value)} is too {'little' if finding.is_least else 'much'}"
        if not finding.exactly
        else f"it is {mm(finding.value)}",
    )


WORDS: Mapping[type[Finding], Wording] = {
    UnknownCut: _cut,
    WrongSide: _side,
    PlaceAmiss: _place,
    BreaksOut: _out,
    DeeperThanBoard: _deep,
    TakesNothing: _nothing,
    FiguresClash: _clash,
}
