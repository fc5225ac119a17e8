"""The words of A codes: parts that do not go together, and motions that are not free."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from ...kernel.checks.assembly_findings import (
    Blocked,
    Hit,
    MotionBlocked,
    NoOrder,
    NoWayHome,
    Ring,
    Surface,
    Vector,
)
from ...kernel.figures import figure, in_a_row, mm, way
from ...kernel.finding import Finding, Place
from . import Wording
from .words import Help, Label, Words

MOST_RINGS = 3
"""Along how many directions it is told why nothing leaves: the axes come first."""

LEAST_WAY = 0.1
"""Less of a way than this, in mm or degrees, is none to stop at."""


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


def _no_order(finding: NoOrder) -> Words:
    names = [member.board for member in finding.members]
    first, *others = finding.lines or (None,)
    return Words(
        title=f"{listed(names)} lock each other: no order of straight moves found",
        label="none of them can be left out for that"
        if first is None
        else f"this holds {listed(first.boards)}",
        others=_labels(
            (
                *((m.place, f"`{m.board}` is here") for m in finding.members),
                *((line.place, f"this holds {listed(line.boards)}") for line in others if line),
            )
        ),
        notes=(*(_round(ring) for ring in finding.rings[:MOST_RINGS]), _directions(finding)),
        help=(
            Help(
                "let one of them slide or drop in last: run a stopped cut out at one end, or take "
                "away one of the joints"
            ),
        ),
    )


def _round(ring: Ring) -> str:
    """`along x, `a` meets `b` at …, and `b` meets `a` at …`: why none leaves that way."""
    met = [
        f"`{hit.moving.board}` meets {surface(hit.still)} at {point(hit.at)}" for hit in ring.hits
    ]
    return f"along {both_ways(ring.direction)}, {' and '.join(met)}"


def _directions(finding: NoOrder) -> str:
    axes = [ring for ring in finding.rings if both_ways(ring.direction) in "xyz"]
    more = finding.tried - 2 * len(axes)
    tried = "x, y and z, both ways" + (f", and {more} more directions" if more > 0 else "")
    return f"tried along {tried}; moves round a corner, turns and tilts are not tried"


def both_ways(direction: Vector) -> str:
    """A direction and its opposite: `x`, or `x 0.6, z 0.8` for one along no axis."""
    return way(direction).lstrip("+-")


def listed(names: Sequence[str]) -> str:
    """Names in a sentence, quoted."""
    return in_a_row([f"`{name}`" for name in names])


def _degrees(angle: float) -> str:
    return f"{figure(angle, 1)}deg"


WORDS: Mapping[type[Finding], Wording] = {
    NoWayHome: _no_way_home,
    MotionBlocked: _motion,
    NoOrder: _no_order,
}
