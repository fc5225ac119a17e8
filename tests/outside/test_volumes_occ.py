"""Do as-cut volumes agree with another geometry kernel that knows true arcs?

Outside source: OpenCASCADE, through gmsh. The same cut records are made there from lines and arcs
(wire, face, extrusion, boolean difference), so no chord comes into it. Boards as cut must agree
within a hundred-thousandth; and, more sharply, so must the wood removed, but for what lies between
our chords and their arcs: at most 2/3 of the chord error times the arcs' surface (a parabola).
"""

from __future__ import annotations

import math
import signal
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import gmsh
import pytest
from cut_boards import CASES, CutCase
from cut_boards import planned as cut_board
from dryfit.kernel import solids
from dryfit.kernel.board import Axis, Board
from dryfit.kernel.cuts import Cut
from dryfit.kernel.plan import BoardPlan
from dryfit.kernel.region import Arc, Edge, Line, Loop, Point2, Region, disc, rectangle
from dryfit.kernel.shaping.shapes import stadium
from dryfit.kernel.solids import depth_range
from joined import Case, every, named, planned
from pieces import board, plan
from pieces import cut as pieces_cut


def quad(*corners: Point2) -> Region:
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    return Region((tuple(Line(a, b) for a, b in pairs),))


CHORD = 1e-4
"""For the sharper comparison, mm."""
AGREE = 1e-5


@pytest.fixture(scope="module", autouse=True)
def _occ() -> Iterator[None]:
    gmsh.initialize(interruptible=False)
    # It lets a broken pipe end the process; Python, and tests of a server, want an error instead.
    signal.signal(signal.SIGPIPE, signal.SIG_IGN)
    gmsh.option.setNumber("General.Terminal", 0)
    yield
    gmsh.finalize()


def quarters(edge: Edge) -> list[Edge]:
    """Arcs cut into pieces under a third of a turn: the other kernel takes the shorter way round
    between two points, so a half turn would be in doubt."""
    if isinstance(edge, Line) or abs(edge.sweep) < 2.0:
        return [edge]
    begin = math.atan2(edge.start[1] - edge.centre[1], edge.start[0] - edge.centre[0])
    middle = begin + edge.sweep / 2
    at: Point2 = (
        edge.centre[0] + edge.radius * math.cos(middle),
        edge.centre[1] + edge.radius * math.sin(middle),
    )
    halves = Arc(edge.start, at, edge.centre, edge.ccw), Arc(at, edge.end, edge.centre, edge.ccw)
    return [piece for half in halves for piece in quarters(half)]


def occ_volume(piece: BoardPlan) -> float:
    """The board as cut, by the other kernel, mm3."""
    gmsh.clear()
    blank = occ_blank(piece.board)
    tools = [tool for cut in piece.cuts for tool in occ_tools(piece.board, cut)]
    if not tools:
        return float(gmsh.model.occ.getMass(3, blank))
    left, _ = gmsh.model.occ.cut([(3, blank)], [(3, tool) for tool in tools])
    return sum(float(gmsh.model.occ.getMass(dimension, tag)) for dimension, tag in left)


def occ_blank(board: Board) -> int:
    low = [float(board.box[axis].lo) for axis in Axis]
    size = [float(board.box[axis].size) for axis in Axis]
    return int(gmsh.model.occ.addBox(*low, *size))


def occ_tools(board: Board, cut: Cut) -> list[int]:
    """The room a cut clears; each loop is a face of its own, none of ours has holes.

    Slanting walls are ruled surfaces through the wires of mouth and floor, the room over the mouth
    a solid of its own.
    """
    lo, hi = depth_range(board, cut)
    tools = []
    if cut.floor is not None:
        face = float(
            board.box[cut.side.axis].hi if cut.side.positive else board.box[cut.side.axis].lo
        )
        floor = lo if cut.side.positive else hi
        for mouth, under in zip(cut.region.loops, cut.floor.loops, strict=True):
            wires = [occ_loop(cut, mouth, face), occ_loop(cut, under, floor)]
            made = gmsh.model.occ.addThruSections(wires, makeSolid=True, makeRuled=True)
            tools += [tag for dimension, tag in made if dimension == 3]
        lo, hi = sorted((face, hi if cut.side.positive else lo))
    for loop in cut.region.loops:
        face = occ_face(cut, [piece for edge in loop for piece in quarters(edge)], lo)
        way = [0.0, 0.0, 0.0]
        way[cut.side.axis] = hi - lo
        made = gmsh.model.occ.extrude([(2, face)], *way)
        tools += [tag for dimension, tag in made if dimension == 3]
    return tools


def occ_loop(cut: Cut, loop: Loop, level: float) -> int:
    return _wire(cut, [piece for edge in loop for piece in quarters(edge)], level)


def occ_face(cut: Cut, edges: list[Edge], level: float) -> int:
    return int(gmsh.model.occ.addPlaneSurface([_wire(cut, edges, level)]))


def _wire(cut: Cut, edges: list[Edge], level: float) -> int:
    occ = gmsh.model.occ

    def point(flat: Point2) -> int:
        where = [0.0, 0.0, 0.0]
        u, v = cut.side.plane
        where[u], where[v], where[cut.side.axis] = flat[0], flat[1], level
        return int(occ.addPoint(*where))

    corners = [point(edge.start) for edge in edges]
    curves = []
    for i, edge in enumerate(edges):
        start, end = corners[i], corners[(i + 1) % len(corners)]
        if isinstance(edge, Line):
            curves.append(occ.addLine(start, end))
        else:
            curves.append(occ.addCircleArc(start, point(edge.centre), end))
    return int(occ.addCurveLoop(curves))


def blank_volume(piece: BoardPlan) -> float:
    size = Fraction(1)
    for axis in Axis:
        size *= piece.board.box[axis].size
    return float(size)


def arc_surface(piece: BoardPlan) -> float:
    """The area of all curved walls that cuts can leave, mm2."""
    total = 0.0
    for cut in piece.cuts:
        lo, hi = depth_range(piece.board, cut)
        widest = cut.floor or cut.region
        arcs = [e for loop in widest.loops for e in loop if isinstance(e, Arc)]
        total += sum(arc.radius * abs(arc.sweep) for arc in arcs) * (hi - lo)
    return total


def differs(piece: BoardPlan, theirs: float) -> bool:
    """Whether our wood removed is off by more than agreement and chords allow."""
    removed = blank_volume(piece) - theirs
    ours = blank_volume(piece) - solids.volume(solids.true_body(piece, CHORD).solid)
    return abs(ours - removed) > AGREE * removed + CHORD * 2 / 3 * arc_surface(piece)


@pytest.mark.parametrize("case", every(), ids=named)
def test_volumes_agree(case: tuple[Case, str]) -> None:
    for piece in planned(*case).boards:
        theirs = occ_volume(piece)
        ours = solids.volume(solids.true_body(piece).solid)
        assert ours == pytest.approx(theirs, rel=AGREE)
        assert not differs(piece, theirs)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_volumes_of_cuts_on_single_boards_agree(case: CutCase) -> None:
    (piece,) = cut_board(case).boards
    theirs = occ_volume(piece)
    assert solids.volume(solids.true_body(piece).solid) == pytest.approx(theirs, rel=AGREE)
    assert not differs(piece, theirs)


def test_a_thousandth_of_a_millimetre_is_noticed() -> None:
    case = next(case for case, _ in every() if case.name == "dado")
    piece = planned(case, "corner").boards[1]
    deeper = tuple(replace(cut, depth=(cut.depth or 0.0) + 0.001) for cut in piece.cuts)
    assert differs(replace(piece, cuts=deeper), occ_volume(piece))


@pytest.mark.parametrize(
    ("mouth", "floor", "side"),
    [
        (disc((150, 100), 8.0), disc((150, 100), 5.0), "+x"),
        (disc((150, 100), 5.0), disc((150, 104), 8.0), "-x"),
        (rectangle(40, 40, 90, 60), rectangle(42, 38, 88, 62), "+x"),
        (quad((40, 40), (90, 44), (90, 60), (40, 70)),
         quad((40, 37), (90, 41), (90, 63), (40, 73)), "-x"),
        (stadium((40, 60), (90, 60), 4.0), stadium((40, 60), (90, 60), 7.0), "+x"),
    ],
)  # fmt: skip
def test_slanting_walls_agree(mouth: Region, floor: Region, side: str) -> None:
    made = replace(pieces_cut("side", side, mouth, 9.0), floor=floor)
    piece = plan(board("side", (0, 18), (0, 200), (0, 300)), cuts=(made,)).boards[0]
    assert not differs(piece, occ_volume(piece))
