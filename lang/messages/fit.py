"""The words of F codes: overlap, fit, wood left thin."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from ...kernel.board import Axis
from ...kernel.checks.findings import (
    Corner,
    DeliveredStock,
    FitFinding,
    FitTooLoose,
    FitTooTight,
    HitsJoint,
    LeftoverWood,
    Lump,
    ThinPin,
    ThinSkin,
    ThinWall,
    ThinWood,
    Uncleared,
    UnresolvedOverlap,
)
from ...kernel.figures import figure, mm
from ...kernel.finding import Finding, Place
from . import Wording
from .words import Edit, Help, Label, Words

ENDS: Mapping[Axis, tuple[str, str]] = {
    Axis.X: ("left", "right"),
    Axis.Y: ("front", "back"),
    Axis.Z: ("lower", "upper"),
}
"""What the low and the high end along each axis is called."""

MOST_LUMPS = 3
"""How many lumps are told one by one; the volume counts them all."""


def _volume(value: float) -> str:
    return f"{figure(value, 1 if value >= 1 else 4)}mm³"


def _corner(corner: Corner) -> str:
    """`lower front`: height first, then the way it lies in the other direction."""
    words = {axis: ENDS[axis][high] for axis, high in corner.ends}
    return " ".join(words[axis] for axis in (Axis.Z, Axis.Y, Axis.X) if axis in words)


def _listed(words: tuple[str, ...]) -> str:
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def _corners(left: Uncleared) -> str:
    """`the lower front and upper front corners of the cut in `side``."""
    cuts = "the cut" if left.cuts == 1 else f"{left.cuts} cuts"
    where = f"of {cuts} in `{left.board}`"
    if len(left.corners) == 4:
        return f"all four corners {where}" if left.cuts == 1 else f"the corners {where}"
    plural = "corner" if len(left.corners) == 1 else "corners"
    named = _listed(tuple(_corner(corner) for corner in left.corners))
    return f"the {named} {plural} {where}"


def _lumps(lumps: tuple[Lump, ...]) -> tuple[str, ...]:
    """Where each lump lies, greatest first."""
    told = sorted(lumps, key=lambda lump: (-round(lump.volume, 3), lump.low))[:MOST_LUMPS]
    notes = [f"{_volume(lump.volume)} at {_box(lump)}" for lump in told]
    if len(lumps) > MOST_LUMPS:
        more = len(lumps) - MOST_LUMPS
        notes.append(f"and {more} more {'place' if more == 1 else 'places'}")
    return tuple(notes)


def _box(lump: Lump) -> str:
    spans = zip("xyz", lump.low, lump.high, strict=True)
    return ", ".join(f"{letter} {figure(lo, 1)}..{mm(hi, 1)}" for letter, lo, hi in spans)


def _total(lumps: tuple[Lump, ...]) -> float:
    return sum(lump.volume for lump in lumps)


def _places(*labels: tuple[Place | None, str]) -> tuple[Label, ...]:
    return tuple(Label(place, text) for place, text in labels if place is not None)


def _leftover(finding: LeftoverWood) -> Words:
    first = finding.left[0]
    return Words(
        title=(
            f"`{first.bit}` leaves {_volume(_total(finding.lumps))} of wood in `{first.board}` "
            f"where `{first.mate}` must go"
        ),
        label=f"left in {_corners(first)}",
        others=_places(
            *((left.bit_place, f"a radius of {mm(left.radius)}") for left in finding.left[:1])
        ),
        notes=(*_also(finding.left[1:]), *_lumps(finding.lumps)),
        help=_relief_help(finding.relief_place),
    )


def _also(left: tuple[Uncleared, ...]) -> tuple[str, ...]:
    return tuple(f"`{other.bit}` also leaves wood in {_corners(other)}" for other in left)


def _relief_help(written: Place | None) -> tuple[Help, ...]:
    edit = None if written is None else Edit(written, "relief corner")
    return (
        Help("let the cutter run on into the corners: `relief corner`", edit),
        Help("or round the mate's edges with a roundover of the cutter's radius: `half_round`"),
    )


def _unresolved(finding: UnresolvedOverlap) -> Words:
    total = _volume(_total(finding.lumps))
    return Words(
        title=f"`{finding.first}` and `{finding.second}` fill the same space",
        label=(
            f"{total} is left in both once `{finding.joints[0]}` is cut"
            if finding.joints
            else f"{total} of it lies inside `{finding.first}`"
        ),
        others=_places((finding.first_place, f"`{finding.first}` is here")),
        notes=_lumps(finding.lumps),
        help=(
            Help("join the rest of the overlap too, or shorten one board")
            if finding.joints
            else Help(
                f"say which gives way: `join {finding.second} into {finding.first} with …`, "
                f"or move one out of the other"
            ),
        ),
    )


def _stocks(stocks: tuple[DeliveredStock, ...]) -> str:
    """` where `ply12` comes 12.2mm thick`; nothing for a fit wrong as drawn."""
    if not stocks:
        return ""
    told = tuple(f"`{stock.name}` comes {mm(stock.thick)} thick" for stock in stocks)
    return f" where {_listed(told)}"


def _fit_labels(finding: FitFinding) -> tuple[Label, ...]:
    return _places(
        *(
            (stock.place, f"drawn {mm(stock.nominal)} thick, delivered {mm(stock.thick)}")
            for stock in finding.stocks
        )
    )


def _other_fit(finding: FitFinding, words: str, suits: float | None) -> tuple[Help, ...]:
    """The fit to write instead, where there is one."""
    if suits is None:
        return (
            Help(
                f"no fit suits stock that varies by {mm(finding.spread)}: "
                f"measure what you have and write that as `actual`"
            ),
        )
    wanted = f"fit {mm(suits, 2)}"
    edit = None if finding.fit_place is None else Edit(finding.fit_place, wanted)
    return (Help(f"{words}: `{wanted}`", edit),)


def _rounded(value: float | None, way: Callable[[float], int]) -> float | None:
    """To the hundredth, up or down: rounded the other way it would not mend the fit."""
    return None if value is None else way(round(value * 100, 6)) / 100


def _tight(finding: FitTooTight) -> Words:
    return Words(
        title=(
            f"`{finding.part}` is {mm(-finding.fit)} too large for `{finding.socket}`"
            f"{_stocks(finding.stocks)}"
        ),
        label=(
            f"the part measures {mm(finding.part_size)}, its socket {mm(finding.socket_size)} "
            f"(fit {mm(finding.asked)})"
        ),
        others=_fit_labels(finding),
        help=_other_fit(finding, "give it room", _rounded(finding.suits, math.ceil)),
    )


def _loose(finding: FitTooLoose) -> Words:
    return Words(
        title=(
            f"`{finding.part}` has {mm(finding.fit)} of play in `{finding.socket}`"
            f"{_stocks(finding.stocks)}"
        ),
        label=(
            f"the part measures {mm(finding.part_size)}, its socket {mm(finding.socket_size)}; "
            f"at most {mm(finding.limit)} of play holds glue and looks closed"
        ),
        others=_fit_labels(finding),
        help=_other_fit(finding, "ask for less play", _rounded(finding.suits, math.floor)),
    )


def _where(finding: ThinWood) -> str:
    return "" if finding.thick is None else f" where the stock comes {mm(finding.thick)} thick"


def _board_label(finding: ThinWood) -> tuple[Label, ...]:
    return _places((finding.board_place, f"`{finding.board}` is here"))


def _skin(finding: ThinSkin) -> Words:
    far = "the far face" if finding.beside is None else f"the cut of `{finding.beside}`"
    return Words(
        title=(
            f"only {mm(finding.left)} of `{finding.board}` is left under the cut of "
            f"`{finding.joint}`{_where(finding)}"
        ),
        label=(
            f"cut {mm(finding.depth)} deep, {mm(finding.left)} from {far}; "
            f"at least {mm(finding.least)} is common practice"
        ),
        others=_board_label(finding),
        help=(Help(f"cut {mm(finding.least - finding.left)} less deep, or use thicker stock"),),
    )


def _wall(finding: ThinWall) -> Words:
    edge = "end" if finding.across_grain else "edge"
    beside = (
        f"the {edge} of `{finding.board}`"
        if finding.beside is None
        else f"the cut of `{finding.beside}`"
    )
    short = ("the grain runs across this wall: it breaks off along it",)
    return Words(
        title=(
            f"only {mm(finding.left)} of wood is left between the cut of `{finding.joint}` and "
            f"{beside}{_where(finding)}"
        ),
        label=(
            f"the wall is {mm(finding.length)} long and {mm(finding.height)} high; "
            f"at least {mm(finding.least)} thick is common practice"
        ),
        others=_board_label(finding),
        notes=short if finding.across_grain else (),
        help=(Help(f"move the cut {mm(finding.least - finding.left)} away from {beside}"),),
    )


def _pin(finding: ThinPin) -> Words:
    return Words(
        title=(
            f"`{finding.joint}` leaves wood only {mm(finding.left)} thick standing in "
            f"`{finding.board}`{_where(finding)}"
        ),
        label=f"thinner than {mm(finding.least)} it chips off under the bit",
        others=_board_label(finding),
        help=(Help("use fewer or wider pins, a thicker tenon, or shallower shoulders"),),
    )


def _hits(finding: HitsJoint) -> Words:
    share = figure(100 * finding.taken / finding.wood, 0)
    return Words(
        title=f"`{finding.cut}` takes wood of `{finding.board}` that holds `{finding.mate}`",
        label=f"{share} % of what `{finding.joint}` leaves to `{finding.board}` there",
        others=()
        if finding.joint_place is None
        else (Label(finding.joint_place, "the joint that it weakens"),),
        help=(Help(f"move the cut away from `{finding.mate}`, or make it smaller"),),
    )


WORDS: Mapping[type[Finding], Wording] = {
    LeftoverWood: _leftover,
    UnresolvedOverlap: _unresolved,
    FitTooTight: _tight,
    FitTooLoose: _loose,
    ThinSkin: _skin,
    ThinWall: _wall,
    ThinPin: _pin,
    HitsJoint: _hits,
}
