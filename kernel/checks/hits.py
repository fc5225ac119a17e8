"""Which cuts of single boards take wood that a joint of the board holds by?

In: the bodies of a plan. What two joined boards share is divided by the joint; of the wood that is
left there to a board, its own cuts may take a small share, such as a screw's hole. Work along edges
and by hand is left out: it goes over pins and all.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from .. import thresholds
from ..board import Axis, Box
from ..cuts import Cut
from ..finding import Finding
from ..frames import box_in, common, has_volume
from ..plan import BoardPlan, Joint
from ..solids import Bodies, Solid, depth_range, swept, true_body, volume
from .findings import HitsJoint


def joint_hits(bodies: Bodies) -> tuple[Finding, ...]:
    """At most one finding for each shaping, board and joint."""
    found: list[Finding] = []
    for board in bodies.plan.boards:
        own = [cut for cut in board.cuts if not (cut.of_joint or cut.by_hand)]
        shapings: dict[str, list[Cut]] = {}
        for cut in own:
            if not cut.work.runs_along:
                shapings.setdefault(cut.joint, []).append(cut)
        if shapings:
            for joint, zone, mate in _zones(bodies, board):
                found += _hits(board, shapings, (joint, zone, mate))
    return tuple(found)


def _zones(bodies: Bodies, board: BoardPlan) -> Iterator[tuple[Joint, Box, str]]:
    """The joints of a board, with the box it shares with its mate in its own coordinates."""
    name = board.board.name
    for joint in bodies.plan.joints:
        if joint.failed or name not in (joint.first.name, joint.second.name):
            continue
        mate = joint.second.name if name == joint.first.name else joint.first.name
        index = bodies.index(mate)
        if index is None:
            continue
        box = box_in(bodies.plan.boards[index].board, board.board)
        zone = None if box is None else common(board.board.box, box)
        if zone is not None and has_volume(zone):
            yield joint, zone, mate


def _hits(
    board: BoardPlan, shapings: dict[str, list[Cut]], at: tuple[Joint, Box, str]
) -> Iterator[Finding]:
    joint, zone, mate = at
    near = {
        name: cuts for name, cuts in shapings.items() if any(_nears(board, c, zone) for c in cuts)
    }
    if not near:
        return
    wood = _wood(board, zone)
    whole = volume(wood)
    if whole <= thresholds.LEAST_LUMP:
        return
    for name, cuts in near.items():
        still = replace(board.board, pose=())
        taken = sum(volume(wood ^ swept(still, c, c.region, thresholds.CHECK_CHORD)) for c in cuts)
        if taken > thresholds.JOINT_SHARE * whole:
            yield HitsJoint(
                place=cuts[0].place,
                board=board.board.name,
                cut=name,
                joint=joint.name,
                mate=mate,
                wood=whole,
                taken=taken,
                joint_place=joint.join.place,
            )


def _wood(board: BoardPlan, zone: Box) -> Solid:
    """What the joints leave to the board in a box, in the board's own coordinates."""
    joined = replace(board, cuts=tuple(cut for cut in board.cuts if cut.of_joint))
    block = replace(board, board=replace(board.board, box=zone, pose=()), cuts=())
    return true_body(joined).solid ^ true_body(block).solid


def _nears(board: BoardPlan, cut: Cut, zone: Box) -> bool:
    """Whether the box round a cut reaches into a box."""
    u0, v0, u1, v1 = cut.extent
    u, v = cut.side.plane
    spans = {u: (u0, u1), v: (v0, v1), cut.side.axis: depth_range(board.board, cut)}
    return all(
        spans[axis][0] < float(zone[axis].hi) - thresholds.SAME
        and spans[axis][1] > float(zone[axis].lo) + thresholds.SAME
        for axis in Axis
    )
