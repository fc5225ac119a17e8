"""STL read back by numpy-stl and by trimesh, against volumes in closed form."""

import io
import math
import struct

import numpy as np
import pytest
import trimesh
from dryfit.kernel.export.stl import stl_files
from handmade import PLY, bench_plan, board_plan, plan_of
from stl import Mode
from stl.mesh import Mesh

CHORD = 0.005
DADO = 150 * 12 * 5
HOLE = math.pi * 20**2 * 12
VOLUMES = {
    "left": 300 * 150 * 12 - DADO,
    "right": 300 * 150 * 12 - DADO - HOLE,
    "shelf": 410 * 150 * 12,
    "rail": 200 * 40 * 20,
}


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    return stl_files(bench_plan(), CHORD)


def test_one_file_for_the_piece_and_one_for_each_part(files: dict[str, bytes]) -> None:
    assert list(files) == ["Bench.stl", "left.stl", "right.stl", "shelf.stl", "rail.stl"]


@pytest.mark.parametrize("name", VOLUMES)
def test_numpy_stl_reads_back_the_volume(files: dict[str, bytes], name: str) -> None:
    mesh = Mesh.from_file(name, fh=io.BytesIO(files[f"{name}.stl"]), mode=Mode.BINARY)
    volume, _, _ = mesh.get_mass_properties()
    # a chord cuts off at most its own height along the whole round hole
    slack = 2 * math.pi * 20 * 12 * CHORD if name == "right" else 1e-3
    assert volume == pytest.approx(VOLUMES[name], abs=slack)
    assert mesh.is_closed(exact=True)


def test_parts_lie_flat_with_their_lower_corner_at_the_origin(files: dict[str, bytes]) -> None:
    sizes = {"left": (300, 150, 12), "shelf": (410, 150, 12), "rail": (200, 40, 20)}
    for name, size in sizes.items():
        mesh = trimesh.load(io.BytesIO(files[f"{name}.stl"]), file_type="stl")
        assert mesh.bounds == pytest.approx(np.array([(0, 0, 0), size]), abs=1e-4)


def test_the_piece_stands_as_designed(files: dict[str, bytes]) -> None:
    mesh = trimesh.load(io.BytesIO(files["Bench.stl"]), file_type="stl")
    turned = 120 + 200 * math.cos(math.radians(30))
    assert mesh.bounds == pytest.approx(np.array([(0, 0, 0), (424, 154.64102, 340)]), abs=1e-4)
    assert mesh.vertices[mesh.vertices[:, 2] > 310][:, 0].max() == pytest.approx(turned, abs=1e-4)
    assert mesh.volume == pytest.approx(sum(VOLUMES.values()), rel=1e-4)


def test_normals_look_outwards(files: dict[str, bytes]) -> None:
    mesh = Mesh.from_file("right", fh=io.BytesIO(files["right.stl"]), mode=Mode.BINARY)
    given = mesh.normals / np.linalg.norm(mesh.normals, axis=1)[:, None]
    mesh.update_normals()
    computed = mesh.normals / np.linalg.norm(mesh.normals, axis=1)[:, None]
    assert np.abs(given - computed).max() < 1e-3


def test_the_header_states_the_unit_and_the_chord(files: dict[str, bytes]) -> None:
    head = files["left.stl"][:80]
    assert head.startswith(b"dryfit; lengths in mm; chord 0.005mm; left")
    (count,) = struct.unpack("<I", files["left.stl"][80:84])
    assert len(files["left.stl"]) == 84 + 50 * count


def test_any_name_fits_the_header() -> None:
    name = "solid\nfacet ☃ " + "x" * 200
    files = stl_files(plan_of("../..", board_plan(name, PLY, ((0, 50), (0, 40), (0, 12)))), CHORD)
    for path, data in files.items():
        assert "/" not in path
        assert not data.startswith(b"solid")
        assert len(data) == 84 + 50 * 12
