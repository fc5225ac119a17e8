"""The words of J codes: joins, where their boards meet, and their options."""

from __future__ import annotations

from collections.abc import Mapping

from ...kernel.figures import figure, mm
from ...kernel.finding import Finding, Place
from ...kernel.joint_findings import (
    ButtOverlaps,
    DoesNotReach,
    Form,
    JoinedToItself,
    LiesFlat,
    NoCorner,
    NoStepAtEdge,
    NoTenonLeft,
    NothingLeftUnder,
    NotSquare,
    NoWayIn,
    OpensAtEdge,
    OptionsContradict,
    OptionTwice,
    PinsMissTheWidth,
    RoundoverMismatch,
    RunsOut,
    StopsShort,
    StopTakesAll,
    UnknownBoard,
    UnknownChoice,
    UnknownFamily,
    UnknownOption,
    ValueTooSmall,
    WrongKindOfValue,
    WrongSize,
    WrongVerb,
)
from . import Wording, corners, crossings, tenons
from .words import Edit, Help, Label, Words

FORMS: Mapping[Form, str] = {
    Form.LENGTH: "one length, such as `5mm`",
    Form.COUNT: "a whole number",
    Form.LENGTHS: "one length, or a list of two, such as `[10mm, 20mm]`",
    Form.PINS: "a whole number, or a list of lengths, such as `[20mm, 30mm, 20mm]`",
    Form.WORD: "one word",
    Form.BIT: "the name of a bit",
    Form.RELIEF: "one word, and a roundover's name after `half_round`",
    Form.STOP: "a length, with `lo`, `hi` or `both` before it if you like",
    Form.SIDE: "a side of the board, such as `z.hi`",
    Form.SIDES: "sides of the board, such as `x.lo x.hi`",
    Form.HAND: "the word `hand`",
    Form.BOARD: "the name of a board",
}
"""What an option takes, in words."""


def _named(names: tuple[str, ...], joined: str = ", ") -> str:
    return joined.join(f"`{name}`" for name in names)


def _places(*labels: tuple[Place | None, str]) -> tuple[Label, ...]:
    return tuple(Label(place, text) for place, text in labels if place is not None)


def _meant(place: Place | None, nearest: str | None) -> tuple[Help, ...]:
    """The way out of a slip of the pen."""
    if nearest is None:
        return ()
    edit = None if place is None else Edit(place, nearest)
    return (Help(f"did you mean `{nearest}`?", edit),)


# --- what was written ----------------------------------------------------------------------------


def _family(finding: UnknownFamily) -> Words:
    return Words(
        title=f"no joint is called `{finding.family}`",
        label="not a joint",
        notes=(f"joints: {_named(finding.known)}",),
        help=_meant(finding.place, finding.nearest),
    )


def _verb(finding: WrongVerb) -> Words:
    allowed = _named(finding.allowed, " or ")
    return Words(
        title=f"boards are joined {allowed} each other with `{finding.family}`",
        label=f"written with `{finding.written}`",
        help=(Help(f"write {allowed} between the two sides instead of `{finding.written}`"),),
    )


def _option(finding: UnknownOption) -> Words:
    notes = [f"options of `{finding.family}`: {_named(finding.known) or 'none'}"]
    if finding.families:
        notes.append(f"`{finding.option}` is an option of {_named(finding.families)}")
    return Words(
        title=f"`{finding.family}` has no option `{finding.option}`",
        label="not an option here",
        notes=tuple(notes),
        help=_meant(finding.place, finding.nearest),
    )


def _option_twice(finding: OptionTwice) -> Words:
    return Words(
        title=f"`{finding.option}` is given twice",
        label="again here",
        others=_places((finding.first_place, "first here")),
        help=(Help("keep one of the two"),),
    )


def _kind(finding: WrongKindOfValue) -> Words:
    written = f"`{finding.written}` is not" if finding.written else "nothing is given"
    return Words(
        title=f"`{finding.option}` takes {FORMS[finding.form]}",
        label=f"{written} that" if finding.written else written,
    )


def _small(finding: ValueTooSmall) -> Words:
    is_count = finding.form in (Form.PINS, Form.COUNT) and finding.least > 0
    told, least = (
        (figure(finding.value), figure(finding.least))
        if is_count
        else (mm(finding.value), mm(finding.least))
    )
    bound = f"more than {least}" if finding.above else f"{least} or more"
    return Words(
        title=f"`{finding.option}` must be {bound}",
        label=f"{told} is too little",
    )


def _contradict(finding: OptionsContradict) -> Words:
    return Words(
        title=f"`{finding.option}` and `{finding.other}` both decide the same",
        label=f"`{finding.other}` has said it already",
        others=_places((finding.other_place, "decided here")),
        help=(Help("keep one of the two"),),
    )


def _choice(finding: UnknownChoice) -> Words:
    return Words(
        title=f"`{finding.option}` does not know `{finding.written}`",
        label="not one of its words",
        notes=(f"it knows {_named(finding.choices)}",),
        help=_meant(finding.place, finding.nearest),
    )


def _board(finding: UnknownBoard) -> Words:
    return Words(
        title=f"there is no board `{finding.board}` to join",
        label="no such board",
        help=_meant(finding.place, finding.nearest),
    )


def _itself(finding: JoinedToItself) -> Words:
    return Words(
        title=f"`{finding.board}` is joined to itself",
        label="it stands on the other side too",
        help=(Help("name it on one side only"),),
    )


# --- where boards meet ---------------------------------------------------------------------------


def _reach(finding: DoesNotReach) -> Words:
    board, mate = finding.board, finding.mate
    if finding.axis is None or finding.board_at is None or finding.mate_at is None:
        return Words(
            title=f"`{board}` does not reach `{mate}`",
            label="it stays clear of every board on the other side",
            help=(Help("lengthen or move one of the two until they meet"),),
        )
    letter, apart = finding.axis.letter, abs(finding.mate_at - finding.board_at)
    here = f"`{board}` comes to {letter} = {mm(finding.board_at)}"
    end = "the two only touch" if apart == 0 else f"{mm(apart)} short"
    if finding.wants_touch:
        end = "they meet in a line only" if apart == 0 else f"{mm(apart)} away"
        way = (
            f"move one of the two by {mm(apart)} along {letter}"
            if apart
            else (f"move one of the two until a face of it lies on `{mate}`")
        )
    else:
        way = f"let `{board}` run on along {letter} by the depth it is to enter `{mate}`"
    return Words(
        title=f"`{board}` does not reach `{mate}`",
        label=f"{here}: {end}",
        others=_places(
            (finding.mate_place, f"its nearest face is at {letter} = {mm(finding.mate_at)}"),
            (finding.board_place, f"the span along {letter} decides"),
        ),
        help=(Help(way),),
    )


def _square(finding: NotSquare) -> Words:
    return Words(
        title=f"`{finding.board}` and `{finding.mate}` meet at an angle",
        label=f"`{finding.family}` needs boards square to each other",
        help=(
            Help("turn both by the same angle, or neither"),
            *(
                (Help("or join them with `mitre` or `splined_mitre`, which turn any corner"),)
                if finding.family in ("box", "blind_box", "step")
                else ()
            ),
        ),
    )


def _butt(finding: ButtOverlaps) -> Words:
    depth, letter = mm(finding.depth), finding.axis.letter
    return Words(
        title=f"`{finding.board}` and `{finding.mate}` share wood, a butt joint only touches",
        label=f"{depth} deep along {letter}",
        others=_places((finding.board_place, f"the span along {letter} decides")),
        help=(
            Help(f"let `{finding.board}` end {depth} earlier"),
            Help("or join them with a joint that is cut, such as `dado` or `rabbet`"),
        ),
    )


def _under(finding: NothingLeftUnder) -> Words:
    letter, depth = finding.axis.letter, mm(finding.depth)
    if finding.gap:
        return Words(
            title=f"the mortise for `{finding.board}` leaves no floor in `{finding.mate}`",
            label=f"{depth} deep with a gap of {mm(finding.gap)}, all that `{finding.mate}` has",
            others=_places((finding.board_place, f"the span along {letter} decides")),
            help=(Help(f"make the gap smaller, or let `{finding.board}` enter less deep"),),
        )
    return Words(
        title=f"`{finding.board}` goes right through `{finding.mate}`",
        label=f"`{finding.family}` leaves wood under it; {depth} along {letter} is all it has",
        others=_places((finding.board_place, f"the span along {letter} decides")),
        help=(
            Help(f"let `{finding.board}` enter a quarter to a third of that (common practice)"),
            Help("or let it through: `tenon` in mid-board, `box` at a corner"),
        ),
    )


def _buried(finding: NoWayIn) -> Words:
    return Words(
        title=f"no cutter gets to where `{finding.board}` meets `{finding.mate}`",
        label=f"what they share comes to no side of `{finding.mate}` that `{finding.family}` "
        "could be cut from",
        help=(Help(f"let `{finding.board}` go on beyond a face or edge of `{finding.mate}`"),),
    )


def _edge(finding: OpensAtEdge) -> Words:
    where = f"{finding.axis.letter} = {mm(finding.at)}"
    ways = {
        "tenon": "give the tenon a shoulder there: `edges 10mm`, or `cheeks` on its faces",
    }
    return Words(
        title=f"`{finding.family}` breaks out at the edge of `{finding.mate}`",
        label=f"`{finding.board}` comes to its edge at {where}; a wall must stand there",
        others=_places((finding.board_place, f"the span along {finding.axis.letter} decides")),
        help=(
            Help(ways.get(finding.family, "use `rabbet`, which is open to the edge")),
            Help(f"or move `{finding.board}` away from the edge"),
        ),
    )


def _step(finding: NoStepAtEdge) -> Words:
    middle = finding.walls == 2
    return Words(
        title=f"`{finding.board}` does not lie along an edge of `{finding.mate}`",
        label="`rabbet` has one wall and an open side; here "
        + ("both sides are closed" if middle else "neither side has a wall"),
        help=(Help("use `dado` or `groove`, which have a wall on each side"),) if middle else (),
    )


def _flat(finding: LiesFlat) -> Words:
    return Words(
        title=f"`{finding.board}` would enter `{finding.mate}` with its face",
        label=f"`{finding.family}` takes an end or an edge; its thickness runs along "
        f"{finding.axis.letter}",
        help=(Help("turn the board, or set it in with `rabbet`"),),
    )


def _corner(finding: NoCorner) -> Words:
    label = (
        "both lie the same way: their thicknesses run along one axis"
        if finding.parallel
        else f"`{finding.board}` does not end at `{finding.mate}`"
    )
    return Words(
        title=f"`{finding.board}` and `{finding.mate}` form no corner for `{finding.family}`",
        label=label,
        help=(Help("join boards end to end round a corner, or use `dado` where they cross"),),
    )


def _short(finding: StopsShort) -> Words:
    letter = finding.axis.letter
    return Words(
        title=f"`{finding.board}` ends {mm(finding.short)} inside `{finding.mate}`",
        label=f"it ends at {letter} = {mm(finding.end)}, the outer face is at {mm(finding.face)}",
        others=_places((finding.board_place, f"the span along {letter} decides")),
        help=(Help(f"let `{finding.board}` run to {letter} = {mm(finding.face)}, or beyond"),),
    )


# --- figures that do not go together -------------------------------------------------------------


def _pins(finding: PinsMissTheWidth) -> Words:
    more = finding.total > finding.width
    by = mm(abs(finding.total - finding.width))
    way = f"make the last pin {mm(finding.last)}" if finding.last > 0 else f"take {by} off the pins"
    return Words(
        title=f"the pins add up to {mm(finding.total)}, the boards share {mm(finding.width)}",
        label=f"{by} too {'much' if more else 'little'}",
        help=(Help(way), Help("or give a count, and the pins are spaced evenly: `pins 7`")),
    )


def _shoulders(finding: NoTenonLeft) -> Words:
    third = mm(finding.size / 3)
    edit = None if finding.value_place is None else Edit(finding.value_place, third)
    return Words(
        title=f"the shoulders leave no tenon on `{finding.board}`",
        label=f"{mm(finding.shoulders)} of shoulders on {mm(finding.size)}",
        help=(Help(f"leave a third of the size at least, {third} (common practice)", edit),),
    )


def _runs_out(finding: RunsOut) -> Words:
    letter = finding.axis.letter
    edit = None if finding.relief_place is None else Edit(finding.relief_place, "corner")
    return Words(
        title=f"the `{finding.family}` for `{finding.mate}` runs out of `{finding.board}`",
        label=f"`{finding.bit}` leaves a radius of {mm(finding.radius)}; to clear it the cut goes "
        f"{mm(finding.extension)} on along {letter}, {mm(finding.past)} past the end",
        help=(
            Help(f"end `{finding.mate}` earlier, or let it come to the end of `{finding.board}`"),
            Help("or choose another relief: `corner` needs less room", edit),
        ),
    )


def _mismatch(finding: RoundoverMismatch) -> Words:
    left = (
        f"leaves a gap of {mm(finding.gap)}"
        if finding.gap >= 0
        else f"leaves {mm(-finding.gap)} of wood in the way"
    )
    return Words(
        title=f"`{finding.companion}` rounds {mm(finding.companion_radius)}, `{finding.bit}` "
        f"leaves {mm(finding.radius)}",
        label=f"{left} in each corner",
        help=_meant(finding.place, finding.matching)
        or (Help(f"declare `bit r {{ roundover {mm(finding.radius)}, by hand }}` and name it"),),
    )


def _stop(finding: StopTakesAll) -> Words:
    return Words(
        title="the stop leaves nothing of the channel",
        label=f"{mm(finding.stops)} off {mm(finding.length)}",
        help=(Help("stop shorter: 10 to 20mm hides a channel (common practice)"),),
    )


def _size(finding: WrongSize) -> Words:
    edit = None if finding.value_place is None else Edit(finding.value_place, mm(finding.size))
    return Words(
        title=f"`{finding.option}` asks for {mm(finding.value)}, there are {mm(finding.size)}",
        label=f"more than `{finding.board}` has",
        help=(Help(f"ask for {mm(finding.size)} at most", edit),),
    )


WORDS: Mapping[type[Finding], Wording] = {
    UnknownFamily: _family,
    WrongVerb: _verb,
    DoesNotReach: _reach,
    UnknownOption: _option,
    OptionTwice: _option_twice,
    WrongKindOfValue: _kind,
    ValueTooSmall: _small,
    OptionsContradict: _contradict,
    UnknownChoice: _choice,
    NotSquare: _square,
    ButtOverlaps: _butt,
    UnknownBoard: _board,
    NothingLeftUnder: _under,
    NoWayIn: _buried,
    OpensAtEdge: _edge,
    NoStepAtEdge: _step,
    LiesFlat: _flat,
    NoCorner: _corner,
    StopsShort: _short,
    PinsMissTheWidth: _pins,
    NoTenonLeft: _shoulders,
    RunsOut: _runs_out,
    RoundoverMismatch: _mismatch,
    JoinedToItself: _itself,
    StopTakesAll: _stop,
    WrongSize: _size,
    **corners.WORDS,
    **crossings.WORDS,
    **tenons.WORDS,
}
