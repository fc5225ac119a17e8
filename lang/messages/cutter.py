"""The words of C codes: bits, sheets, lumber, machines."""

from __future__ import annotations

from collections.abc import Mapping

from ...kernel.checks.findings import (
    BeyondTravel,
    BitTooShort,
    DeeperThanFlute,
    DeeperThanReach,
    LargerThanLumber,
    LargerThanSheet,
    TravelShort,
)
from ...kernel.figures import mm
from ...kernel.finding import Finding, Place
from ...kernel.findings import (
    NamedBitOfWrongKind,
    NoBitOfKind,
    NoCompanion,
    NoRoomToSweep,
    NoStraightBit,
    SocketNarrowerThanBit,
    UnknownBit,
)
from . import Wording
from .words import Edit, Help, Label, Words


def _places(*labels: tuple[Place | None, str]) -> tuple[Label, ...]:
    return tuple(Label(place, text) for place, text in labels if place is not None)


# --- C1xx: the bit a joint is cut with ---------------------------------------------------------


def _no_bit(finding: NoStraightBit) -> Words:
    widest = "" if finding.widest is None else f" of at most {mm(finding.widest)}"
    return Words(
        title=f"there is no bit to cut `{finding.joint}` with",
        label=f"`{finding.family}` needs a straight bit{widest} on the machine",
        help=(Help("declare one: `bit b6 { straight 6mm, flute 22mm }`"),),
    )


def _narrow(finding: SocketNarrowerThanBit) -> Words:
    width, diameter = mm(finding.width), mm(finding.diameter)
    which = "named" if finding.named else "the smallest declared"
    ways = [Help(f"declare a bit of {width} or less")]
    if finding.most_pins is not None:
        edit = None
        if finding.pins_place is not None:
            edit = Edit(finding.pins_place, str(finding.most_pins))
        room = Help(f"{finding.most_pins} pins at most leave room for `{finding.bit}`", edit)
        ways.insert(0, room)
    what = "a socket of " if finding.of_joint else ""
    return Words(
        title=f"{what}`{finding.joint}` is {width} wide, `{finding.bit}` is {diameter}",
        label=f"`{finding.bit}`, {which}, does not go in",
        others=_places((finding.bit_place, diameter)),
        help=tuple(ways),
    )


def _unknown_bit(finding: UnknownBit) -> Words:
    known = ", ".join(f"`{name}`" for name in finding.known)
    edit = None
    if finding.nearest is not None and finding.place is not None:
        edit = Edit(finding.place, finding.nearest)
    return Words(
        title=f"there is no bit `{finding.bit}`",
        label="no such bit",
        notes=(f"bits of that kind: {known}",) if known else (),
        help=() if finding.nearest is None else (Help(f"did you mean `{finding.nearest}`?", edit),),
    )


def _wrong_kind(finding: NamedBitOfWrongKind) -> Words:
    declared = "declared `by hand`" if finding.by_hand else f"declared as {finding.kind}"
    where = " on the machine" if finding.wanted == "straight" else ""
    return Words(
        title=f"this takes a {finding.wanted} bit{where}",
        label=f"`{finding.bit}` is {declared}",
        others=_places((finding.bit_place, declared)),
        help=(Help(f"name a {finding.wanted} bit, or leave the choice to the joint"),),
    )


def _no_companion(finding: NoCompanion) -> Words:
    radius = mm(finding.radius)
    return Words(
        title=f"`half_round` needs a roundover of {radius}, the radius of `{finding.bit}`",
        label="no such roundover is declared",
        help=(
            Help(f"declare one: `bit r {{ roundover {radius}, by hand }}`"),
            Help("or choose another relief: `relief corner`"),
        ),
    )


def _no_kind(finding: NoBitOfKind) -> Words:
    sample = {"dovetail": "`bit d14 { dovetail 14mm 14deg, flute 12mm }`"}.get(finding.kind)
    return Words(
        title=f"there is no {finding.kind} bit to cut `{finding.joint}` with",
        label=f"`{finding.family}` needs a {finding.kind} bit",
        help=(Help(f"declare one: {sample}" if sample else "declare one"),),
    )


def _no_room(finding: NoRoomToSweep) -> Words:
    corners = "corner" if finding.corners == 1 else "corners"
    return Words(
        title=f"{finding.corners} {corners} of `{finding.joint}` in `{finding.board}` are too "
        "close to sweep",
        label=f"`{finding.bit}` leaves {mm(finding.radius)} and needs more wall than that",
        notes=("a corner relief is cut there instead",),
        help=(Help("choose `relief corner`, a smaller bit, or wider sockets"),),
    )


# --- C2xx: what bit, sheet and machine can do -------------------------------------------------


def _flute(finding: DeeperThanFlute) -> Words:
    return Words(
        title=(
            f"`{finding.joint}` cuts {mm(finding.depth)} deep, the flute of `{finding.bit}` is "
            f"{mm(finding.can)} long"
        ),
        label=f"above the flute the shank rubs in `{finding.board}`",
        others=_places((finding.bit_place, f"flute {mm(finding.can)}")),
        help=_shorter(finding),
    )


def _reach(finding: DeeperThanReach) -> Words:
    return Words(
        title=(
            f"`{finding.joint}` cuts {mm(finding.depth)} deep, `{finding.bit}` reaches "
            f"{mm(finding.can)}"
        ),
        label=f"the holder would hit `{finding.board}`",
        others=_places((finding.bit_place, f"reach {mm(finding.can)}")),
        help=_shorter(finding),
    )


def _shorter(finding: BitTooShort) -> tuple[Help, ...]:
    less = mm(finding.depth - finding.can)
    return (Help(f"use a longer bit, or make the cut {less} less deep"),)


def _sheet(finding: LargerThanSheet) -> Words:
    blank = f"{mm(finding.length)} by {mm(finding.width)}"
    sheet = f"{mm(finding.sheet_length)} by {mm(finding.sheet_width)}"
    across = (Help("it would fit with the grain across: write `grain` along its other span"),)
    return Words(
        title=f"`{finding.board}` is {blank}, a sheet of `{finding.stock}` is {sheet}",
        label="length along the grain by width",
        others=_places((finding.stock_place, f"sheet {sheet}, grain along the first")),
        help=across if finding.fits_across else (Help("make it of two boards, or of lumber"),),
    )


def _lumber(finding: LargerThanLumber) -> Words:
    limits = (
        ("long", finding.length, finding.longest),
        ("wide", finding.width, finding.widest),
    )
    over = [(word, size, most) for word, size, most in limits if most is not None]
    sizes = " and ".join(f"{mm(size)} {word}" for word, size, _ in over)
    most = " and ".join(f"{mm(most)} {word}" for word, _, most in over)
    return Words(
        title=f"`{finding.board}` is {sizes}, `{finding.stock}` comes at most {most}",
        label=f"{mm(finding.length)} along the grain, {mm(finding.width)} across",
        others=_places((finding.stock_place, f"at most {most}")),
        help=(Help("make it of two boards joined edge to edge, or of other stock"),),
    )


def _travel(finding: BeyondTravel) -> Words:
    blank = f"{mm(finding.length)} by {mm(finding.width)} by {mm(finding.thick)}"
    return Words(
        title=f"`{finding.board}` fits on no machine: its blank is {blank}",
        label="laid flat, either way round",
        others=_places(*((machine.place, _short(machine)) for machine in finding.machines)),
        notes=(
            *(_short(machine) for machine in finding.machines if machine.place is None),
            f"along z the bit goes through the thickness and lifts {mm(finding.lift)} clear",
        ),
        help=(
            Help("make it of two boards, end to end with `puzzle` or edge to edge with `tongue`"),
            Help("or declare the machine it is cut on"),
        ),
    )


def _short(machine: TravelShort) -> str:
    told = (f"{axis} needs {mm(needed)}, has {mm(has)}" for axis, needed, has in machine.short)
    return f"`{machine.machine}`: {'; '.join(told)}"


WORDS: Mapping[type[Finding], Wording] = {
    NoStraightBit: _no_bit,
    SocketNarrowerThanBit: _narrow,
    UnknownBit: _unknown_bit,
    NamedBitOfWrongKind: _wrong_kind,
    NoCompanion: _no_companion,
    NoBitOfKind: _no_kind,
    NoRoomToSweep: _no_room,
    DeeperThanFlute: _flute,
    DeeperThanReach: _reach,
    LargerThanSheet: _sheet,
    LargerThanLumber: _lumber,
    BeyondTravel: _travel,
}
