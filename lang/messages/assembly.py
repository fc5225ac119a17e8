"""The words of A codes: parts that do not go together, and motions that are not free."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ...kernel.checks.assembly_findings import (
    Blocked,
    Hit,
    MotionBlocked,
    NoWayHome,
    Surface,
    Vector,
)
from ...kernel.figures import figure, mm
from ...kernel.finding import Finding, Place
from . import Wording
from .words import Help, Label, Words

LEAST_WAY = 0.1
"""Less of a way than this, in mm or degrees, is none to stop at."""


def way(direction: Vector) -> str:
    """A direction for a person: `-y`, or `x 0.5, z 0.866` for one along no axis.

    >>> way((0.0, -1.0, 0.0)), way((0.6, 0.0, 0.8))
    ('-y', 'x 0.6, z 0.8')
    """
    parts = [(letter, c) for letter, c in zip("xyz", direction, strict=True) if abs(c) > 1e-9]
    if len(parts) == 1:
        letter, c = parts[0]
        return f"{'+' if c > 0 else '-'}{letter}"
    return ", ".join(f"{letter} {figure(c)}" for letter, c in parts)


def point(at: Vector) -> str:
    """A place in the finished piece: `x 19mm, y 224mm, z 79.4mm`."""
    return ", ".join(f"{letter} {mm(c, 1)}" for letter, c in zip("xyz", at, strict=True))


def surface(face: Surface) -> str:
    """`the cut of `a into b` in `b``, or `` `b` `` for a face of its blank."""
    if face.cut_of is None:
        return f"`{face.board}`"
    return f"`{face.board}` in the cut of `{face.cut_of}`"


def _labels(labels: Iterable[tuple[Place | None, str]]) -> tuple[Label, ...]:
    return tuple(Label(place, text) for place, text in labels if place is not None)


def _no_way_home(finding: NoWayHome) -> Words:
    stocks = tuple(f"`{stock.name}` comes {mm(stock.thick)} thick" for stock in finding.stocks)
    when = f" where {' and '.join(stocks)}" if stocks else ""
    return Words(
        title=f"`{finding.part}` does not go into `{finding.mate}` along any straight way{when}",
        label=(
            "this joint cannot be closed, even with no other board there"
            if finding.joints
            else "it cannot have come there, even with no other board there"
        ),
        others=_labels(
            (
                *([(finding.part_place, f"`{finding.part}` is here")] if finding.joints else []),
                (finding.mate_place, f"`{finding.mate}` is here"),
                *((s.place, f"drawn {mm(s.nominal)} thick") for s in finding.stocks),
            )
        ),
        notes=tuple(_tried(finding.part, blocked) for blocked in finding.blocked),
        help=(
            Help("give the joint more room for thick stock: a larger `fit`")
            if finding.stocks
            else Help("open the way on one side, so that the part can slide or drop in"),
        ),
    )


def _tried(part: str, blocked: Blocked) -> str:
    """What stops the part on its way out, which is what stops it on its way in."""
    hit = blocked.hit
    return (
        f"out along {way(blocked.direction)} `{part}` meets {surface(hit.still)} "
        f"after {mm(hit.after, 2)}, at {point(hit.at)}"
    )


def _motion(finding: MotionBlocked) -> Words:
    hit = finding.hit
    if finding.direction is None:
        verb, came, asked = "swings", _degrees(hit.after), _degrees(float(finding.asked))
    else:
        verb, came, asked = "travels", mm(hit.after, 2), mm(finding.asked)
    return Words(
        title=f"`{finding.moves}` {verb} {came} of {asked} and runs into `{hit.still.board}`",
        label=f"`{hit.moving.board}` meets `{hit.still.board}` on the way",
        others=_labels(((finding.still_place, f"`{hit.still.board}` is in the way"),)),
        notes=_where(hit),
        help=(Help(f"make room for it, {_or_else(hit, came)}"),),
    )


def _or_else(hit: Hit, came: str) -> str:
    """The other way out: a shorter way, where the boards move at all."""
    if hit.after < LEAST_WAY:
        return "or let it move another way"
    return f"or let it move no farther than {came}"


def _where(hit: Hit) -> tuple[str, ...]:
    """The place of the first contact, and the cuts that made the faces there, if any did."""
    faces = [f"{surface(face)}" for face in (hit.moving, hit.still) if face.cut_of is not None]
    return (f"first contact at {point(hit.at)}", *(f"there it is {face}" for face in faces))


def _degrees(angle: float) -> str:
    return f"{figure(angle, 1)}deg"


WORDS: Mapping[type[Finding], Wording] = {
    NoWayHome: _no_way_home,
    MotionBlocked: _motion,
}
