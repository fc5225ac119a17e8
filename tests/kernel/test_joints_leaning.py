"""Tenons of boards that lean: sections by trigonometry, no wood shared, ways out, other leans told.

A leg W wide leans t from square to its seat: along the seat's face it is W / cos t wide, and a
tenon d deep moves on by d tan t under it.
"""

import math
from fractions import Fraction

import pytest
from carpentry import B6, R3, areas, board, cuts, join, joint, listed, mm, planned, relief
from dryfit.kernel.board import Axis, Board, Move
from dryfit.kernel.cuts import Side, Work
from dryfit.kernel.design import Join, Word
from dryfit.kernel.frames import pose_matrix
from dryfit.kernel.joint_findings import OpensAtEdge
from dryfit.kernel.measure import fit
from dryfit.kernel.quantity import Quantity
from dryfit.kernel.region import area, bounds
from dryfit.kernel.sliding import blocked, free_travel
from dryfit.kernel.solids import Bodies, volume
from dryfit.kernel.tenon_findings import LeansTooFar, NotWhereItLeans, TiltNotFlat
from pieces import shifted, turned

F = Fraction
SEAT = board("seat", (0, 400), (0, 200), (300, 318))
UNDER = (200, 100, 300)
"""On the seat's lower face, where legs are turned about."""


def leg(degrees: float, long: float = 330, about: Axis = Axis.Y) -> Board:
    """60 wide along x, 18 thick, its middle through `UNDER`."""
    return board("leg", (170, 230), (91, 109), (0, long), pose=(turned(degrees, about, UNDER),))


def tenon(**options: object) -> Join:
    return join("tenon", "leg", "seat", **options)  # type: ignore[arg-type]


def sections(degrees: float, deep: float = 18) -> tuple[float, float]:
    """Where the tenon begins and ends along x: all that stays in the leg over the depth."""
    t = math.radians(degrees)
    half, move = 30 / math.cos(t), deep * math.tan(t)
    return 200 - half + max(0.0, move), 200 + half + min(0.0, move)


@pytest.mark.parametrize("degrees", [5, 12.5, 30, -8, -20])
def test_the_mortise_is_square_and_as_long_as_the_leg_allows(degrees: float) -> None:
    made = joint([SEAT, leg(degrees, 360)], tenon(relief=relief("none")))
    (mortise,) = cuts(made, "seat")
    low, high = sections(degrees)
    assert (mortise.side, mortise.depth) == (Side(Axis.Z, False), None)
    assert bounds(mortise.asked) == pytest.approx((low - 0.05, 90.95, high + 0.05, 109.05))
    (outline,) = cuts(made, "leg")
    assert (outline.side, outline.work) == (Side(Axis.Y, True), Work.THROUGH)
    plan, _ = planned([SEAT, leg(degrees, 360)], tenon(relief=relief("none")))
    body = 60 * 300 + (high - low) * 18  # to the seat along the leg's middle, and the tenon
    fillet = (1 - math.pi / 4) * 9  # at its foot, on the side that has a shoulder
    left = volume(Bodies(plan).body(1).solid) / 18
    assert body <= left <= body + fillet + 0.01


def test_a_blind_tenon_ends_at_the_first_corner_of_the_leg() -> None:
    """The leg's end lies 10 past the seat's face along its middle and slants away below it: across
    the tenon it is least deep where the tenon's far edge is, 8 inside the leg's."""
    t = math.radians(10)
    boards, made = [SEAT, leg(10, 310)], tenon(edges=mm(8))
    (mortise,) = cuts(joint(boards, made), "seat")
    far = 30 / math.cos(t) - 8
    assert mortise.depth == pytest.approx(1 + 10 / math.cos(t) - far * math.tan(t), abs=1e-6)
    bodies = Bodies(planned(boards, made)[0])
    assert not bodies.meet(0, 1)
    further = free_travel(bodies.faces(1), bodies.faces(0), (0.0, 0.0, 1.0))
    assert further == pytest.approx(0, abs=1e-6)


def test_shoulders_are_measured_along_the_face_and_cheeks_on_the_faces() -> None:
    made = joint([SEAT, leg(10, 360)], tenon(edges=listed(10, 4), cheeks=listed(5, 3)))
    half, move = 30 / math.cos(math.radians(10)), 18 * math.tan(math.radians(10))
    (mortise,) = cuts(made, "seat")
    low, high = 200 - half + max(10, move), 200 + half - 4
    assert bounds(mortise.asked) == pytest.approx((low - 0.05, 95.95, high + 0.05, 106.05))
    pockets = cuts(made, "leg", Work.POCKET)
    assert [(cut.side, cut.depth) for cut in pockets] == [
        (Side(Axis.Y, False), 5.0),
        (Side(Axis.Y, True), 3.0),
    ]
    (play,) = made.matings
    assert (play.axis, play.part_size, play.follows) == (Axis.Y, 10.0, "ply18")


@pytest.mark.parametrize("pose", [(), (turned(37, Axis.X), shifted(10, 20, 30))])
@pytest.mark.parametrize("family", ["tenon", "wedged_tenon", "pegged_tenon"])
@pytest.mark.parametrize("degrees", [8, -15])
def test_a_splayed_leg_comes_out_square_to_its_seat(
    pose: tuple[Move, ...], family: str, degrees: float
) -> None:
    seat = board("seat", (0, 400), (0, 200), (300, 318), pose=pose)
    stood = leg(degrees, 360)
    stood = board("leg", (170, 230), (91, 109), (0, 360), pose=(*stood.pose, *pose))
    options: dict[str, object] = {"fit": mm(0.2), "edges": mm(8)}
    if family == "pegged_tenon":
        options |= {"peg": mm(6), "drill": Word("b6")}
    plan, findings = planned([seat, stood], join(family, "leg", "seat", **options))  # type: ignore[arg-type]
    assert findings == ()
    bodies = Bodies(plan)
    assert not bodies.meet(0, 1)
    matrix = pose_matrix(pose)[:3, :3]
    out, up, across = (tuple(matrix @ way) for way in ((0, 0, -1), (0, 0, 1), (0, 1, 0)))
    faces = bodies.faces(1), bodies.faces(0)
    assert blocked(*faces, out) is None
    assert free_travel(*faces, up) == pytest.approx(0, abs=1e-6)
    assert free_travel(*faces, across) == pytest.approx(0.1, abs=1e-6)
    assert fit(bodies, "leg", "seat") == pytest.approx(0.2, abs=1e-6)


def test_saw_cuts_and_pegs_are_carried_onto_the_leg() -> None:
    made = joint([SEAT, leg(10, 360)], join("wedged_tenon", "leg", "seat"))
    slots = [cut for cut in cuts(made, "leg") if cut.by_hand]
    assert [round(area(cut.region), 6) for cut in slots] == [13.5 + 1] * 2
    pegged = joint([SEAT, leg(10, 360)], join("pegged_tenon", "leg", "seat", peg=mm(6)))
    tenon_holes = [cut for cut in cuts(pegged, "leg") if cut.work is Work.BORE]
    assert [cut.side for cut in tenon_holes] == [Side(Axis.Y, True)] * 2
    assert [area(cut.region) for cut in tenon_holes] == pytest.approx([9 * math.pi] * 2)


# ---- turned about its length ---------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["side", "corner", "half_round", "long"])
def test_a_turned_post_lies_turned_in_its_seat(kind: str) -> None:
    made = tenon(cheeks=mm(3), edges=mm(6), relief=relief(kind))
    plan, findings = planned([SEAT, leg(25, 318, Axis.Z)], made)
    assert findings == ()
    square = joint([SEAT, leg(0, 318)], made)
    assert areas(plan.joints[0], "seat") == pytest.approx(areas(square, "seat"), abs=1e-6)
    assert areas(plan.joints[0], "leg") == pytest.approx(areas(square, "leg"), abs=1e-6)
    bodies = Bodies(plan)
    assert not bodies.meet(0, 1)
    assert blocked(bodies.faces(1), bodies.faces(0), (0.0, 0.0, -1.0)) is None
    if kind != "long":
        assert fit(bodies, "leg", "seat") == pytest.approx(0.1, abs=1e-6)


def test_a_turned_mortise_must_stay_in_its_board() -> None:
    narrow = board("seat", (0, 400), (75, 125), (300, 318))
    _, (wrong,) = planned([narrow, leg(60, 318, Axis.Z)], tenon())
    assert isinstance(wrong, OpensAtEdge)
    assert wrong.axis is Axis.Y


# ---- what does not go ----------------------------------------------------------------------------


def test_a_lean_over_the_faces_is_told() -> None:
    _, (wrong,) = planned([SEAT, leg(10, about=Axis.X)], tenon())
    assert isinstance(wrong, TiltNotFlat)
    assert (wrong.lean, wrong.wanted) == (Axis.X, Axis.Y)
    assert wrong.degrees == pytest.approx(10)


@pytest.mark.parametrize(
    ("options", "code"),
    [({"relief": Word("half_round")}, NotWhereItLeans), ({"twin": Quantity(F(2))}, NotWhereItLeans),
     ({"root": Word("fillet")}, NotWhereItLeans), ({"edges": mm(31)}, LeansTooFar)],
)  # fmt: skip
def test_what_a_leaning_tenon_cannot_be_is_told(options: dict[str, object], code: type) -> None:
    _, (wrong,) = planned([SEAT, leg(10)], tenon(**options), bits=[B6, R3])
    assert isinstance(wrong, code)
