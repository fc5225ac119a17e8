"""Which findings can a kind of joint or cut report about itself?

Read off the code, so that no list of codes is kept beside it: from the functions of a family record
(its readers and its cutters) every function of the kernel that they name is followed, and every
finding class named on the way is one that can be made. Functions reached through a record's method
(`meeting.b`, `piece.points`) are followed in the records that families are handed.

A class behind a branch that a family never takes is found too; the one such case there is,
findings on a relief that the family does not take, is left out here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from types import CodeType, FunctionType
from typing import Any, TypeAlias

from .checks.assembly_findings import NoWayHome
from .checks.findings import (
    DeeperThanFlute,
    DeeperThanReach,
    FitTooLoose,
    FitTooTight,
    HitsJoint,
    LeftoverWood,
    ThinPin,
    ThinSkin,
    ThinWall,
)
from .compared import taken_by
from .finding import Finding
from .findings import NoCompanion, NoRoomToSweep
from .joint_findings import (
    ButtOverlaps,
    DoesNotReach,
    NotSquare,
    RoundoverMismatch,
    RunsOut,
    UnknownChoice,
    ValueTooSmall,
    WrongKindOfValue,
)
from .joints.family import Contact, Family
from .joints.meeting import Meeting, Part
from .joints.options import Reading
from .joints.tilted import TiltedMeeting
from .relief import Relief
from .shaping.family import ShapingFamily
from .shaping.workpiece import Workpiece

Class: TypeAlias = type[Finding]
Handed: TypeAlias = tuple[type[Any], ...]
"""Records whose methods a function calls that is handed them."""

OF_A_RELIEF: dict[Class, Relief] = {
    NoCompanion: Relief.HALF_ROUND,
    RoundoverMismatch: Relief.HALF_ROUND,
    NoRoomToSweep: Relief.SWEPT,
    RunsOut: Relief.LONG,
}
"""Findings that one relief alone can lead to."""

OF_ANY_OPTION = frozenset({WrongKindOfValue, ValueTooSmall, UnknownChoice})
"""Findings on how the value of an option is written: the same for every one."""


def reported(family: Family[Any] | ShapingFamily[Any]) -> tuple[Class, ...]:
    """The finding classes that a family can make, in the order of their codes.

    Not among them: what any line can have, in its names, its boards, the values of its options;
    and what is found on the boards as cut, see `AS_CUT`.
    """
    starts: list[object] = [family.read, family.cut, *(spec.read for spec in family.options)]
    found: set[Class] = set()
    if isinstance(family, Family):
        handed: Handed = (Meeting, Part, TiltedMeeting, Reading)
        starts.append(family.cut_tilted)
        found.add(DoesNotReach)
        found |= {NotSquare} if family.cut_tilted is None else set()
        found |= {ButtOverlaps} if family.contact is Contact.TOUCHING else set()
    else:
        handed = (Workpiece, Reading)
    found |= classes_named(starts, handed)
    taken = {kind for spec in family.options if spec.name == "relief" for kind in taken_by(spec)}
    kept = (
        one
        for one in found - OF_ANY_OPTION
        if one.code and (one not in OF_A_RELIEF or OF_A_RELIEF[one] in taken)
    )
    return tuple(sorted(kept, key=lambda one: one.code))


def classes_named(starts: Iterable[object], handed: Handed = ()) -> set[Class]:
    """Every finding class named by these functions or by any of ours that they name."""
    found: set[Class] = set()
    seen: set[CodeType] = set()
    waiting = list(starts)
    while waiting:
        match waiting.pop():
            case FunctionType() as function if function.__code__ not in seen:
                seen.add(function.__code__)
                waiting += _named(function, handed)
            case type() as named if issubclass(named, Finding):
                found.add(named)
    return found


def _named(function: FunctionType, handed: Handed) -> Iterator[object]:
    """What a function names: globals of the kernel, what it closes over, methods it may call."""
    for cell in function.__closure__ or ():
        yield cell.cell_contents
    yield from function.__defaults__ or ()
    for name in _names(function.__code__):
        value = function.__globals__.get(name)
        if str(getattr(value, "__module__", "")).startswith(f"{__package__}."):
            yield value
        for record in handed:
            method = record.__dict__.get(name)
            yield method.fget if isinstance(method, property) else method


def _names(code: CodeType) -> Iterator[str]:
    """The names in a function's code and in what is written inside it, imports included."""
    yield from code.co_names
    for inner in code.co_consts:
        if isinstance(inner, CodeType):
            yield from _names(inner)


OF_ANY_CUT: tuple[Class, ...] = (DeeperThanFlute, DeeperThanReach, ThinSkin, ThinWall, HitsJoint)
OF_A_JOINT: tuple[Class, ...] = (LeftoverWood, ThinPin, NoWayHome)
OF_A_FIT: tuple[Class, ...] = (FitTooTight, FitTooLoose)
"""What the checks of the boards as cut find of every cut, of joints besides, and of those that fit
a part into a socket."""
