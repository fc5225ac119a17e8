"""What of a finding is to be shown in the picture: which boards, and marks from where to where?

In: findings, whose facts are records of any shape, and the plan they are about. Out: plain JSON.
Nothing is computed: boards are those that the facts name, points are those that the facts hold or
that the kernel measures.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import fields, is_dataclass

from ..kernel import measure
from ..kernel.checks.assembly_findings import Hit, MotionBlocked, NoOrder, NoWayHome
from ..kernel.checks.expect_findings import ExpectationFailed, Measured
from ..kernel.checks.findings import (
    FitFinding,
    LeftoverWood,
    Lump,
    ThinWood,
    UnresolvedOverlap,
)
from ..kernel.design import Motion
from ..kernel.ends import Ends
from ..kernel.figures import figure, mm
from ..kernel.finding import Finding, Place
from ..kernel.joint_findings import DoesNotReach
from ..kernel.plan import CutPlan
from ..kernel.quantity import LENGTH
from ..kernel.shadows import Vector
from ..kernel.solids import Bodies, lumps, surface
from ..lang.messages.assembly import MOST_RINGS
from ..lang.messages.expect import with_unit
from .wording import Json, text

NO_BOARDS = frozenset({"stock", "stocks", "bit", "bits", "machine", "machines", "family", "test"})
"""Fields of facts whose words are no boards, even where a board has the same name."""

Wood = LeftoverWood | UnresolvedOverlap


def boards_named(finding: Finding, plan: CutPlan) -> tuple[str, ...]:
    """The boards a finding is about, in the plan's order: those its facts name, themselves or by
    a joint; else those written at its place."""
    words = set(_words(finding))
    for joint in plan.joints:
        if joint.name in words:
            words |= {joint.first.name, joint.second.name}
    names = [one.board.name for one in plan.boards]
    found = tuple(name for name in names if name in words)
    return found or _written_at(finding.place, plan)


def _words(value: object) -> Iterator[str]:
    """Every word among the facts, however deep."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from _words(item)
    elif is_dataclass(value) and not isinstance(value, Place):
        for field in fields(value):
            if field.name not in NO_BOARDS:
                yield from _words(getattr(value, field.name))


def _written_at(place: Place | None, plan: CutPlan) -> tuple[str, ...]:
    """The boards whose own line, or a join of theirs, is at a place."""
    if place is None:
        return ()
    joined = {
        ref.name
        for joint in plan.joints
        if _covers(joint.join.place, place)
        for ref in (joint.first, joint.second)
    }
    boards = (one.board for one in plan.boards)
    return tuple(b.name for b in boards if b.name in joined or _covers(b.place, place))


def _covers(one: Place | None, other: Place) -> bool:
    if one is None or one.file != other.file:
        return False
    return one.start <= other.start and other.end <= one.end


def lumps_of(finding: Finding, bodies: Bodies | None) -> list[Json]:
    """The wood that two boards both claim: its box, volume and, given bodies, its surface."""
    if not isinstance(finding, Wood):
        return []
    solids = () if bodies is None else _surfaces(finding, bodies)
    told: list[Json] = []
    for number, lump in enumerate(finding.lumps):
        drawn = solids[number] if number < len(solids) else {}
        told.append({**_lump(lump), **drawn})
    return told


def _lump(lump: Lump) -> dict[str, Json]:
    return {"lo": vector(lump.low), "hi": vector(lump.high), "volume": round(lump.volume, 3)}


def _surfaces(finding: Wood, bodies: Bodies) -> list[dict[str, Json]]:
    """Greatest first, as the finding's own lumps are, which leave out only the smallest."""
    i, j = bodies.index(finding.first), bodies.index(finding.second)
    if i is None or j is None:
        return []
    made: list[dict[str, Json]] = []
    for solid, _ in lumps(bodies, min(i, j), max(i, j)):
        points, triangles = surface(solid)
        made.append(
            {
                "points": [round(float(c), 3) + 0.0 for c in points.reshape(-1)],
                "triangles": [int(corner) for corner in triangles.reshape(-1)],
            }
        )
    return made


def marks_of(finding: Finding, bodies: Bodies | None) -> list[Json]:
    """What is to be drawn at a finding: the way to where boards first meet, what was measured from
    where to where."""
    match finding:
        case NoWayHome():
            return [_contact(each.hit, each.direction) for each in finding.blocked]
        case MotionBlocked(hit=hit, direction=direction) if direction is not None:
            return [_contact(hit, direction)]
        case MotionBlocked(hit=hit):
            return [_met(hit, _no_length(f"{figure(hit.after, 2)}°"))]
        case NoOrder():
            told = finding.rings[:MOST_RINGS]  # as in words
            held = dict.fromkeys((hit, ring.direction) for ring in told for hit in ring.hits)
            return [_contact(hit, direction) for hit, direction in held]
        case ExpectationFailed():
            return [mark for one in finding.measured for mark in _measured(one)]
        case FitFinding() if bodies is not None:
            return _fit(finding, bodies)
        case ThinWood(ends=ends, left=left, board=board):
            return [{**_mark("measured", ends.one, (board,)), **_ends(ends), **_length(left)}]
        case DoesNotReach() if bodies is not None:
            return _between(finding, bodies)
        case _:
            return []


def stop_told(motion: Motion, findings: Iterable[Finding]) -> Json:
    """What a motion runs into, as the check found it; None where it is free, or not checked yet."""
    for each in findings:
        match each:
            case MotionBlocked(place=motion.place, moves=motion.name, hit=hit):
                return {
                    "after": round(hit.after, 6),
                    "at": vector(hit.at),
                    "path": [vector(point) for point in hit.path],
                    "moving": text(hit.moving.board),
                    "still": text(hit.still.board),
                }
    return None


def _contact(hit: Hit, direction: Vector) -> Json:
    """The way to where boards meet, with how far they come."""
    return {**_met(hit, _length(hit.after, 2)), "along": vector(direction)}


def _met(hit: Hit, figures: dict[str, Json]) -> dict[str, Json]:
    boards = (hit.moving.board, hit.still.board)
    path: list[Json] = [vector(point) for point in hit.path]
    return {**_mark("contact", hit.at, boards), **figures, "path": path}


def _measured(one: Measured) -> list[Json]:
    """A mark at the place of a figure, or from end to end of what was measured."""
    at = one.at if one.ends is None else one.ends.one
    if at is None:
        return []
    is_length = one.dimension == LENGTH
    other = _no_length(with_unit(one.value, one.dimension))
    figures = _length(one.value) if is_length else other
    mark = _mark("measured", at, one.boards or one.subjects)
    return [{**mark, **_ends(one.ends), **figures}]


def _fit(finding: FitFinding, bodies: Bodies) -> list[Json]:
    """Where the walls stand as drawn, with the figure of the worst delivery."""
    found = measure.fit_along(bodies, finding.joint, finding.part, finding.axis)
    if found is None or found.at is None:
        return []
    mark = _mark("gap", found.at, (finding.part, finding.socket))
    return [{**mark, **_ends(found.ends), **_length(finding.fit)}]


def _between(finding: DoesNotReach, bodies: Bodies) -> list[Json]:
    """From the board to the one it does not reach, where they come nearest; of boards that touch
    nothing is missing that has a length."""
    boards = (finding.board, finding.mate)
    found = measure.clearance_found(bodies, *boards)
    if found is None or found.at is None or found.value == 0.0:
        return []
    return [{**_mark("measured", found.at, boards), **_ends(found.ends), **_length(found.value)}]


def _mark(kind: str, at: Vector, boards: Iterable[str]) -> dict[str, Json]:
    """A point without a figure."""
    return {
        "kind": kind,
        "at": vector(at),
        "to": None,
        "along": None,
        "path": [],
        **_no_length(""),
        "boards": [text(board) for board in boards],
    }


def _ends(ends: Ends | None) -> dict[str, Json]:
    if ends is None:
        return {}
    along = None if ends.along is None else vector(ends.along)
    return {"at": vector(ends.one), "to": vector(ends.other), "along": along}


def _length(value: float, digits: int = 3) -> dict[str, Json]:
    return {"text": mm(value, digits), "length_mm": round(value, 6) + 0.0}


def _no_length(figures: str) -> dict[str, Json]:
    return {"text": figures, "length_mm": None}


def vector(values: Iterable[float]) -> list[Json]:
    """Coordinates to a millionth of a mm, never a negative zero."""
    return [round(float(value), 6) + 0.0 for value in values]
