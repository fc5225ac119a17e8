"""Small pieces whose answer anybody sees: written as a maker would, and asked how they go together.

Three bars that lock each other and the puzzle of six are in `test_locked.py`.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from dryfit.kernel.assembly import assembly
from dryfit.kernel.blocking import Blocking
from dryfit.kernel.checks.assembly_findings import MotionBlocked, NoOrder
from dryfit.kernel.insertion import Insertions
from dryfit.kernel.locked import first_tried, lock_of
from dryfit.kernel.steps import Assembly
from dryfit.lang import load
from dryfit.lang.loaded import Piece

KIT = """design "Hand built"
stock ply12 { thick 12mm }
stock ply6  { thick 6mm }
bit   b6    { straight 6mm, flute 22mm }
bit   tail  { dovetail 12mm 14deg, flute 12mm }
"""

CORNER = """
board lid  of ply12  x 0mm..200mm  y 0mm..100mm  z 138mm..150mm
board side of ply12  x 0mm..12mm   y 0mm..100mm  z 0mm..150mm
"""

SHELF = """
board shelf of ply12  x 6mm..200mm  y 0mm..100mm  z 60mm..72mm
board side  of ply12  x 0mm..12mm   y 0mm..100mm  z 0mm..150mm
"""

TRAY = """
board left   of ply12  x 0mm..12mm     y 0mm..200mm    z 0mm..60mm
board right  of ply12  x 288mm..300mm  y 0mm..200mm    z 0mm..60mm
board front  of ply12  x 0mm..300mm    y 0mm..12mm     z 0mm..60mm
board back   of ply12  x 0mm..300mm    y 188mm..200mm  z 0mm..60mm
board bottom of ply6   x 6mm..294mm    y 6mm..194mm    z 20mm..26mm
join left, right to front, back with box { pins 5 }
join bottom into left, right, front, back with groove { fit 0.3mm }
"""


def piece_of(folder: Path, text: str) -> Piece:
    file = folder / "piece.dry"
    file.write_text(KIT + text, "utf-8")
    return load(file).piece


def ways_out(piece: Piece) -> set[str]:
    """The axes along which the first board leaves the second, such as `+x`."""
    return {
        f"{'+' if c > 0 else '-'}{'xyz'[i]}"
        for direction in Insertions(piece.bodies).of(0, 1).out
        for i, c in enumerate(direction)
        if abs(c) > 0.999
    }


def test_a_box_corner_is_free_along_two_axes(tmp_path: Path) -> None:
    piece = piece_of(tmp_path, CORNER + "join lid to side with box { pins 5 }\n")
    assert piece.messages == ()
    assert ways_out(piece) == {"+x", "+z"}


@pytest.mark.parametrize(
    ("options", "out"),
    [("", {"+y", "-y"}), ("{ stop lo 20mm }", {"+y"}), ("{ stop hi 20mm }", {"-y"})],
)
def test_a_dovetail_is_blocked_but_along_its_slot(
    tmp_path: Path, options: str, out: set[str]
) -> None:
    """Neither pulled out of the side nor up or down; stopped, it leaves at its open end only."""
    piece = piece_of(tmp_path, SHELF + f"join shelf into side with dovetail {options}\n")
    assert ways_out(piece) == out


def test_a_captured_panel_forces_the_order(tmp_path: Path) -> None:
    piece = piece_of(tmp_path, TRAY)
    assert piece.messages == ()
    bodies = piece.bodies
    bottom = bodies.index("bottom")
    assert bottom is not None
    blocking = Blocking(bodies, range(5))
    ways = first_tried(bodies, range(5))
    assert len(ways) == 6
    parts = [
        moving
        for moving in range(1, blocking.everything)
        if any(blocking.frees(moving, blocking.everything & ~moving, way) for way in ways)
    ]
    singles = {1 << i for i in range(5) if i != bottom}
    assert set(parts) == singles | {blocking.everything & ~one for one in singles}, "a side is last"
    assert lock_of(bodies) is None
    found = assembly(bodies)
    assert isinstance(found, Assembly)
    assert "bottom" in found.steps[-1].into
    assert "bottom" not in found.steps[-1].moving


@pytest.mark.parametrize(("wide", "stops"), [(200, False), (200.1, True)])
def test_a_drawer_a_tenth_wider_than_its_opening_is_stopped(
    tmp_path: Path, wide: float, stops: bool
) -> None:
    """It stands before a carcass 200 wide inside, and is pushed in along y."""
    piece = piece_of(
        tmp_path,
        f"""
board left   of ply12  x -112mm..-100mm  y 0mm..200mm  z 0mm..80mm
board right  of ply12  x 100mm..112mm    y 0mm..200mm  z 0mm..80mm
board drawer of ply12  x {-wide / 2}mm..{wide / 2}mm  y -150mm..-10mm  z 20mm..32mm
travel drawer along y for 150mm
""",
    )
    found = [finding for finding in piece.findings if isinstance(finding, MotionBlocked)]
    assert bool(found) == stops
    for stop in found:
        assert stop.hit.after == pytest.approx(10)
        assert stop.hit.still.board in ("left", "right")


WEAVE = """
board r1 of ply12  x 0mm..280mm    y 60mm..72mm    z 0mm..60mm
board r2 of ply12  x 0mm..280mm    y 150mm..162mm  z 0mm..60mm
board c1 of ply12  x 70mm..82mm    y 0mm..270mm    z 0mm..60mm
board c2 of ply12  x 170mm..182mm  y 0mm..270mm    z 0mm..60mm
join r1 across c1 with edge_lap { over first }
join r1 across c2 with edge_lap { over second }
join r2 across c1 with edge_lap { over second }
join r2 across c2 with edge_lap { over LAST }
"""


def test_woven_boards_lock_and_come_apart_with_one_crossing_turned_over(tmp_path: Path) -> None:
    """Each goes over one and under one, so none can be the first to be lifted off. With the last
    crossing turned over r2 lies under both: drop it away, then c1 off r1 and r1 off c2."""
    woven = piece_of(tmp_path, WEAVE.replace("LAST", "first"))
    (lock,) = (finding for finding in woven.findings if isinstance(finding, NoOrder))
    assert {member.board for member in lock.members} == {"r1", "r2", "c1", "c2"}
    turned_over = piece_of(tmp_path, WEAVE.replace("LAST", "second"))
    assert turned_over.messages == ()
    found = assembly(turned_over.bodies)
    assert isinstance(found, Assembly)
    assert {step.direction[2] for step in found.steps} <= {1.0, -1.0}
