"""Which boards of a join meet, and which reach nothing?

A join names boards on two sides; every board of the one meets every board of the other, or does
not. A pair that does not meet is skipped, but a board that meets nothing on the other side is a
finding, with the nearest faces.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from .blanks import Blank
from .board import Axis, Box
from .design import BoardRef, Join
from .finding import Finding, Place
from .frames import Bridge, bridge, common, turned_gap
from .joint_findings import ButtOverlaps, DoesNotReach
from .joints.family import Contact
from .thresholds import SAME
from .tilt import Tilt, tilt


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """A board of each side. `between` leads from the second's coordinates to the first's, None when
    they are not square (`turned` leads there if they share the direction of an axis); `shared` is
    their common box there, running backwards where they are apart; `gap` the distance along the
    axis that shows it best, negative for boards that overlap."""

    first: BoardRef
    second: BoardRef
    a: Blank
    b: Blank
    between: Bridge | None
    shared: Box | None
    gap: float
    turned: Tilt | None = None

    def meets(self, contact: Contact) -> bool:
        """True when the two share wood, or at least touch where the family asks for no more."""
        if contact is Contact.SHARING:
            return self.gap < -SAME
        if self.shared is None:
            return self.gap <= SAME
        flush = [axis for axis in Axis if abs(self.shared[axis].size) <= SAME]
        return self.gap < -SAME or (len(flush) == 1 and self.gap <= SAME)


def pairs_of(join: Join, blanks: Mapping[str, Blank]) -> tuple[Pair, ...]:
    """Every pair of different sound boards across the join, each once, in the order written."""
    pairs: dict[tuple[str, str], Pair] = {}
    for first in join.first:
        for second in join.second:
            a, b = blanks.get(first.name), blanks.get(second.name)
            known = {(first.name, second.name), (second.name, first.name)} & pairs.keys()
            if a is not None and b is not None and a is not b and not known:
                pairs[(first.name, second.name)] = _pair(first, second, a, b)
    return tuple(pairs.values())


def _pair(first: BoardRef, second: BoardRef, a: Blank, b: Blank) -> Pair:
    between = bridge(b.board, a.board)
    shared = None if between is None else common(a.board.box, between.box(b.board.box))
    if shared is None:
        gap = turned_gap(a.board, b.board)
    else:
        gap = float(-min(shared[axis].size for axis in Axis))
    return Pair(
        first=first,
        second=second,
        a=a,
        b=b,
        between=between,
        shared=shared,
        gap=gap,
        turned=tilt(b.board, a.board) if between is None else None,
    )


def boards_that_reach_nothing(
    join: Join, pairs: tuple[Pair, ...], blanks: Mapping[str, Blank], contact: Contact
) -> list[Finding]:
    """A finding for each board that meets none on the other side, all of which are sound."""
    findings: list[Finding] = []
    sides = ((join.first, join.second), (join.second, join.first))
    for refs, mates in sides:
        if not all(mate.name in blanks for mate in mates):
            continue
        for ref in refs:
            own = [p for p in pairs if ref.name in (p.first.name, p.second.name)]
            if own and not any(pair.meets(contact) for pair in own):
                nearest = min(own, key=lambda pair: pair.gap)
                findings.append(_does_not_reach(join, ref, nearest, contact))
    return _one_a_pair(findings)


def _one_a_pair(findings: list[Finding]) -> list[Finding]:
    """Without the finding that says of B and A what an earlier one said of A and B."""
    kept: list[Finding] = []
    seen: set[frozenset[str]] = set()
    for finding in findings:
        if isinstance(finding, DoesNotReach):
            names = frozenset((finding.board, finding.mate))
            if names in seen:
                continue
            seen.add(names)
        kept.append(finding)
    return kept


def _does_not_reach(join: Join, ref: BoardRef, pair: Pair, contact: Contact) -> Finding:
    is_first = pair.first.name == ref.name
    own, mate = (pair.a, pair.b) if is_first else (pair.b, pair.a)
    mate_ref = pair.second if is_first else pair.first
    axis, at_low, at_high = None, None, None
    if pair.between is not None and pair.shared is not None:
        shared = pair.shared
        axis = min(Axis, key=lambda one: shared[one].size)
        # apart: the common span runs backwards, from the one's near face to the other's
        at_low, at_high = shared[axis].hi, shared[axis].lo
        if (pair.a.board.box[axis].hi == at_low) != is_first:
            at_low, at_high = at_high, at_low
    return DoesNotReach(
        place=ref.place or join.place,
        board=own.board.name,
        mate=mate.board.name,
        family=join.family,
        wants_touch=contact is Contact.TOUCHING,
        axis=axis,
        board_at=at_low,
        mate_at=at_high,
        mate_place=mate_ref.place,
        board_place=own.board.place,
    )


def butt_overlap(pair: Pair, place: Place | None) -> Finding | None:
    """The finding that two boards that should only touch share wood."""
    if pair.shared is None or pair.gap >= -SAME:
        return None
    shared = pair.shared
    axis = min(Axis, key=lambda one: shared[one].size)
    return ButtOverlaps(
        place=pair.first.place or place,
        board=pair.a.board.name,
        mate=pair.b.board.name,
        axis=axis,
        depth=shared[axis].size,
        board_place=pair.a.board.place,
    )
