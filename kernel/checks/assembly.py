"""Do the boards go together, and does everything move that the design says moves?

In: the bodies of a plan. All boards are taken apart by straight moves. Where that does not do, each
part is tried alone against its mate, and where all of these come out, the boards are told that lock
each other. Pairs that overlap, and joints that failed or are too tight, stay silent: another
finding tells of them, and with any of those no order is looked for. The thickest delivery of each
stock is tried, pair by pair, where a test of the design claims that it `assembles`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from .. import thresholds
from ..broad import board_pairs
from ..cuts import Cut
from ..delivered import delivered, thickest
from ..design import Motion, Travel
from ..expect import Claim
from ..finding import Finding, Place
from ..insertion import Insertions, Way, joined_pairs, still_leaves, ways
from ..locked import Grip, Lock, lock_of
from ..motion import direction_of, stop_of
from ..plan import BoardPlan, CutPlan
from ..solids import Bodies
from .assembly_findings import (
    Blocked,
    Hit,
    Line,
    Member,
    MotionBlocked,
    NoOrder,
    NoWayHome,
    Ring,
    Surface,
)
from .findings import DeliveredStock

ASSEMBLES = "assembles"
"""The claim of a test that asks for more than `check` asks by itself."""


def assembly_findings(
    bodies: Bodies, told: frozenset[str], *, overlap: bool = False
) -> tuple[Finding, ...]:
    """Joints that no straight way closes, boards that lock each other, and motions that run into
    something.

    `told` are joints that another finding explains; `overlap` says that boards share wood.
    """
    tried = not overlap and is_whole(bodies.plan)
    lock = lock_of(bodies) if tried else None
    # What comes apart together comes apart in pairs.
    alone = tuple(joint_findings(bodies, told, all_leave=tried and lock is None))
    locked = [] if lock is None or alone or _is_told(bodies.plan, lock, told) else [lock]
    return (*alone, *(no_order(bodies.plan, one) for one in locked), *motion_findings(bodies))


# ---- all boards ----------------------------------------------------------------------------------


def is_whole(plan: CutPlan) -> bool:
    """Whether every board, joint and cut of the design is there: what is missing may be the very
    board that locks others, or the cut that frees them."""
    sound = not any(one.failed for one in plan.joints)
    sound = sound and not any(one.failed for one in plan.shaped)
    return sound and len(plan.boards) == len(plan.design.boards)


def _is_told(plan: CutPlan, lock: Lock, told: frozenset[str]) -> bool:
    names = {plan.boards[i].board.name for i in lock.boards}
    inside = (j.name for j in plan.joints if {j.first.name, j.second.name} <= names)
    return not told.isdisjoint(inside)


def no_order(plan: CutPlan, lock: Lock) -> NoOrder:
    """What a lock is made of, by name, with the lines that hold it."""
    boards = [plan.boards[i].board for i in lock.boards]
    rings = tuple(
        Ring(ring.direction, tuple(_gripped(plan, grip) for grip in ring.grips))
        for ring in lock.rings
    )
    lines = _lines(plan, [board.name for board in boards])
    return NoOrder(
        place=lines[0].place if lines else boards[0].place,
        members=tuple(Member(board.name, board.place) for board in boards),
        lines=lines,
        rings=rings,
        tried=lock.tried,
    )


def _gripped(plan: CutPlan, grip: Grip) -> Hit:
    contact = grip.contact
    return Hit(
        moving=_surface(plan.boards[grip.moving], contact.moving_cut),
        still=_surface(plan.boards[grip.still], contact.still_cut),
        after=contact.distance,
        path=(contact.start, contact.place),
    )


def _lines(plan: CutPlan, names: Sequence[str]) -> tuple[Line, ...]:
    """The `join` lines between these boards, in the order written, each once."""
    found: dict[Place | None, dict[str, None]] = {}
    for joint in plan.joints:
        pair = (joint.first.name, joint.second.name)
        if all(name in names for name in pair):
            found.setdefault(joint.join.place, {}).update(dict.fromkeys(pair))
    return tuple(Line(place, tuple(boards)) for place, boards in found.items())


# ---- joints --------------------------------------------------------------------------------------


def joint_findings(
    bodies: Bodies, told: frozenset[str], *, all_leave: bool = False
) -> Iterator[NoWayHome]:
    """A finding for each pair whose boards reach into each other and cannot be drawn apart.

    `all_leave` says that every pair is known to come apart as drawn.
    """
    found = Insertions(bodies)
    other = _thickest(bodies.plan)
    if all_leave and other is None:
        return
    for part, mate, joints in _pairs(bodies):
        if told.intersection(joints) or bodies.meet(min(part, mate), max(part, mate)):
            continue
        if not all_leave and found.leaves(part, mate) is None:
            yield _no_way_home(bodies, (part, mate), joints, found.of(part, mate).ways, ())
        elif other is not None and _changes(bodies, other, (part, mate)):
            out = found.of(part, mate).out
            if still_leaves(bodies, other, part, mate, out) is None:
                tried = ways(other.faces(part), other.faces(mate), out)
                stocks = _stocks(bodies.plan, part, mate)
                yield _no_way_home(other, (part, mate), joints, tried, stocks)


def _pairs(bodies: Bodies) -> Iterator[tuple[int, int, tuple[str, ...]]]:
    """Joined pairs with their joints, then pairs that only cuts of their own make room for.

    Blanks that share no wood lie on two sides of a plane and always come apart.
    """
    known = {frozenset(ref.name for ref in (j.first, j.second)) for j in bodies.plan.joints}
    yield from joined_pairs(bodies)
    boards = bodies.plan.boards
    for i, j in board_pairs([one.board for one in boards], 2 * thresholds.TWIN_INSET):
        if frozenset((boards[i].board.name, boards[j].board.name)) not in known:
            yield j, i, ()


def _thickest(plan: CutPlan) -> Bodies | None:
    """The bodies at the thickest delivery, where a test asks whether the design assembles."""
    statements = (each for test in plan.design.tests for each in test.expectations)
    if not any(isinstance(each, Claim) and each.words == ASSEMBLES for each in statements):
        return None
    return Bodies(delivered(plan, thickest(plan)))


def _changes(bodies: Bodies, other: Bodies, pair: tuple[int, int]) -> bool:
    before, after = bodies.plan.boards, other.plan.boards
    return any(before[i].board.box != after[i].board.box for i in pair)


def _stocks(plan: CutPlan, *boards: int) -> tuple[DeliveredStock, ...]:
    """The stocks of these boards that may come thicker than drawn, each once."""
    names = {plan.boards[i].board.stock for i in boards}
    return tuple(
        DeliveredStock(
            name=stock.name,
            place=stock.place,
            nominal=float(stock.thick),
            thick=float(stock.actual[1]),
        )
        for stock in plan.design.stocks
        if stock.name in names and stock.actual[1] > stock.thick
    )


def _no_way_home(
    bodies: Bodies,
    pair: tuple[int, int],
    joints: tuple[str, ...],
    tried: tuple[Way, ...],
    stocks: tuple[DeliveredStock, ...],
) -> NoWayHome:
    plan = bodies.plan
    part, mate = (plan.boards[i] for i in pair)
    blocked = tuple(
        Blocked(
            way.direction,
            Hit(
                moving=_surface(part, way.contact.moving_cut),
                still=_surface(mate, way.contact.still_cut),
                after=way.contact.distance,
                path=(way.contact.start, way.contact.place),
            ),
        )
        for way in tried
        if way.contact is not None
    )
    places = [joint.join.place for joint in plan.joints if joint.name in joints]
    return NoWayHome(
        place=places[0] if places else part.board.place,
        joints=joints,
        part=part.board.name,
        mate=mate.board.name,
        part_place=part.board.place,
        mate_place=mate.board.place,
        blocked=blocked,
        stocks=stocks,
    )


def _surface(plan: BoardPlan, cut: int) -> Surface:
    made: Cut | None = plan.cuts[cut] if cut >= 0 else None
    return Surface(plan.board.name, None if made is None else made.joint)


# ---- motions -------------------------------------------------------------------------------------


def motion_findings(bodies: Bodies) -> tuple[MotionBlocked, ...]:
    """A finding for each declared motion that is not free."""
    found = (_blocked(bodies, motion) for motion in bodies.plan.design.motions)
    return tuple(finding for finding in found if finding is not None)


def _blocked(bodies: Bodies, motion: Motion) -> MotionBlocked | None:
    stop = stop_of(bodies, motion)
    if stop is None:
        return None
    moving, still = (bodies.plan.boards[i] for i in (stop.moving, stop.still))
    if isinstance(motion, Travel):
        direction, asked = direction_of(bodies, motion), motion.distance
    else:
        direction, asked = None, abs(motion.degrees)
    return MotionBlocked(
        place=motion.place,
        moves=motion.name,
        direction=direction,
        asked=asked,
        hit=Hit(
            moving=_surface(moving, stop.moving_cut),
            still=_surface(still, stop.still_cut),
            after=stop.after,
            path=stop.path,
        ),
        still_place=still.board.place,
    )
