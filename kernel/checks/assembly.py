"""Does each joint close, and does everything move that the design says moves?

In: the bodies of a plan. A part is tried alone against its mate; the order in which all parts go
together is a question of its own. Pairs that overlap, and joints that failed or are too tight, stay
silent: another finding tells of them. The thickest delivery of each stock is tried where a test
of the design claims that it `assembles`.
"""

from __future__ import annotations

from collections.abc import Iterator

from .. import thresholds
from ..broad import board_pairs
from ..cuts import Cut
from ..delivered import delivered, thickest
from ..design import Motion, Travel
from ..expect import Claim
from ..finding import Finding
from ..insertion import Insertions, Way, joined_pairs, still_leaves, ways
from ..motion import direction_of, stop_of
from ..plan import BoardPlan, CutPlan
from ..solids import Bodies
from .assembly_findings import Blocked, Hit, MotionBlocked, NoWayHome, Surface
from .findings import DeliveredStock

ASSEMBLES = "assembles"
"""The claim of a test that asks for more than `check` asks by itself."""


def assembly_findings(bodies: Bodies, told: frozenset[str]) -> tuple[Finding, ...]:
    """Joints that no straight way closes, and motions that run into something.

    `told` are joints that another finding explains.
    """
    return (*joint_findings(bodies, told), *motion_findings(bodies))


# ---- joints --------------------------------------------------------------------------------------


def joint_findings(bodies: Bodies, told: frozenset[str]) -> Iterator[NoWayHome]:
    """A finding for each pair whose boards reach into each other and cannot be drawn apart."""
    found = Insertions(bodies)
    other = _thickest(bodies.plan)
    for part, mate, joints in _pairs(bodies):
        if told.intersection(joints) or bodies.meet(min(part, mate), max(part, mate)):
            continue
        if found.leaves(part, mate) is None:
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
                at=way.contact.place,
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
            at=stop.place,
        ),
        still_place=still.board.place,
    )
