"""GLB read back by trimesh and held against the glTF 2.0 schema of the Khronos Group (glTF 2.0
specification, JSON schema of 2023, as trimesh ships it)."""

import io
import json
import math
import struct
from dataclasses import replace
from typing import Any

import jsonschema
import numpy as np
import pytest
import trimesh
from dryfit.kernel.design import BoardRef, Join, Verb
from dryfit.kernel.export.gltf import gltf_files
from dryfit.kernel.finding import Place
from dryfit.kernel.plan import Joint
from handmade import OAK, PLY, bench_plan, board_plan, plan_of
from trimesh.exchange.gltf import get_schema

CHORD = 0.005


def json_of(data: bytes) -> dict[str, Any]:
    magic, version, length, size, kind = struct.unpack("<4sIII4s", data[:20])
    assert (magic, version, length, kind) == (b"glTF", 2, len(data), b"JSON")
    return json.loads(data[20 : 20 + size])


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    return gltf_files(bench_plan(), CHORD)


@pytest.fixture(scope="module")
def whole(files: dict[str, bytes]) -> dict[str, Any]:
    return json_of(files["Bench.glb"])


def nodes_by_name(document: dict[str, Any]) -> dict[str, Any]:
    return {node["name"]: node for node in document["nodes"][1:]}


def test_every_file_meets_the_schema(files: dict[str, bytes]) -> None:
    assert list(files) == ["Bench.glb", "left.glb", "right.glb", "shelf.glb", "rail.glb"]
    for data in files.values():
        jsonschema.validate(json_of(data), get_schema())


def test_a_piece_without_boards_meets_the_schema() -> None:
    data = gltf_files(plan_of("Nothing"), CHORD)["Nothing.glb"]
    jsonschema.validate(json_of(data), get_schema())


def test_buffers_are_aligned_and_bounds_are_true(files: dict[str, bytes]) -> None:
    for data in files.values():
        document = json_of(data)
        (size,) = struct.unpack("<I", data[12:16])
        binary = data[28 + size :]
        assert len(data) % 4 == 0
        assert document["buffers"][0]["byteLength"] <= len(binary)
        for accessor in document["accessors"]:
            view = document["bufferViews"][accessor["bufferView"]]
            assert view["byteOffset"] % 4 == 0
            run = binary[view["byteOffset"] : view["byteOffset"] + view["byteLength"]]
            if accessor["type"] == "VEC3":
                points = np.frombuffer(run, "<f4").reshape(-1, 3)
                assert points.min(axis=0).tolist() == accessor["min"]
                assert points.max(axis=0).tolist() == accessor["max"]


def test_trimesh_sees_metres_with_y_up(files: dict[str, bytes]) -> None:
    scene = trimesh.load(io.BytesIO(files["Bench.glb"]), file_type="glb")
    expected = np.array([(0, 0, -0.15464102), (0.424, 0.340, 0)])
    assert scene.bounds == pytest.approx(expected, abs=1e-6)
    volumes = {name: mesh.volume for name, mesh in scene.geometry.items()}  # in the mesh's own mm
    assert volumes["left"] == pytest.approx(300 * 150 * 12 - 150 * 12 * 5, rel=1e-6)
    hole = math.pi * 20**2 * 12
    slack = 2 * math.pi * 20 * 12 * CHORD
    assert volumes["left"] - volumes["right"] == pytest.approx(hole, abs=slack)
    assert volumes["rail"] == pytest.approx(200 * 40 * 20, rel=1e-6)
    assert all(
        mesh.is_watertight and mesh.is_winding_consistent for mesh in scene.geometry.values()
    )


def test_node_matrices_turn_and_never_mirror(whole: dict[str, Any]) -> None:
    for node in whole["nodes"]:
        matrix = np.array(node["matrix"]).reshape(4, 4).T
        assert np.linalg.det(matrix[:3, :3]) == pytest.approx(
            1e-9 if node is whole["nodes"][0] else 1
        )


def test_extras_say_where_the_geometry_comes_from(whole: dict[str, Any]) -> None:
    assert whole["asset"]["extras"] == {"units": "mm", "metres_a_unit": 0.001, "chord": CHORD}
    right = nodes_by_name(whole)["right"]["extras"]
    assert right["board"] == "right"
    assert (right["stock"], right["species"]) == ("ply12", "birch")
    assert (right["length"], right["width"], right["thick"]) == (300, 150, 12)
    assert right["grain"] == "z"
    assert right["place"] == {"file": "bench.dry", "start": 10, "end": 20}
    dado, hole = right["cuts"]
    triangles = dado.pop("triangles")
    assert dado == {
        "joint": "shelf-into-side",
        "mate": "shelf",
        "work": "pocket",
        "side": "-x",
        "depth": 5,
        "slant": 0,
        "bit": "b6",
        "by_hand": False,
        "place": {"file": "bench.dry", "start": 100, "end": 140},
    }
    assert triangles["count"] == 6  # floor and two walls
    assert (hole["joint"], hole["work"], hole["depth"]) == ("hole", "through", None)


def test_the_scene_lists_the_joints_of_its_boards() -> None:
    join = Join(
        name="shelf-into-sides",
        family="dado",
        verb=Verb.INTO,
        first=(BoardRef("shelf"),),
        second=(BoardRef("left"), BoardRef("right")),
        place=Place("bench.dry", 90, 99),
    )
    joints = tuple(
        Joint(name=f"{join.name}/{side}", join=join, first=BoardRef("shelf"), second=BoardRef(side))
        for side in ("left", "right")
    )
    files = gltf_files(replace(bench_plan(), joints=joints), CHORD)
    listed = {
        name: [joint["joint"] for joint in json_of(data)["scenes"][0]["extras"]["joints"]]
        for name, data in files.items()
    }
    assert listed["Bench.glb"] == ["shelf-into-sides/left", "shelf-into-sides/right"]
    assert listed["left.glb"] == ["shelf-into-sides/left"]
    assert listed["rail.glb"] == []
    assert json_of(files["left.glb"])["scenes"][0]["extras"]["joints"][0] == {
        "joint": "shelf-into-sides/left",
        "family": "dado",
        "first": "shelf",
        "second": "left",
        "bit": None,
        "place": {"file": "bench.dry", "start": 90, "end": 99},
    }


def test_triangle_runs_are_the_faces_of_their_cuts(files: dict[str, bytes]) -> None:
    scene = trimesh.load(io.BytesIO(files["right.glb"]), file_type="glb", process=False)
    mesh = scene.geometry["right"]
    cut = nodes_by_name(json_of(files["right.glb"]))["right"]["extras"]
    hole = cut["cuts"][1]["triangles"]
    faces = mesh.vertices[mesh.faces[hole["first"] : hole["first"] + hole["count"]]]
    # flat frame: length is z, width y counted on; the hole's centre is 230 along, 75 across
    radii = np.hypot(faces[:, :, 0] - 230, np.minimum(abs(faces[:, :, 1] - 75), 75))
    assert radii == pytest.approx(np.full(radii.shape, 20.0), abs=1e-4)
    runs = [cut["blank"], *(c["triangles"] for c in cut["cuts"])]
    assert sum(run["count"] for run in runs) == len(mesh.faces)


def test_equal_boards_share_their_bytes() -> None:
    one = board_plan("a", PLY, ((0, 300), (0, 100), (0, 12)))
    two = board_plan("b", PLY, ((0, 300), (0, 100), (50, 62)))
    other = board_plan("c", OAK, ((0, 300), (0, 100), (100, 120)))
    whole = json_of(gltf_files(plan_of("Three", one, two, other), CHORD)["Three.glb"])
    used = [mesh["primitives"][0]["attributes"]["POSITION"] for mesh in whole["meshes"]]
    assert used[0] == used[1] != used[2]
    assert [m["name"] for m in whole["materials"]] == ["ply12", "oak20"]


def test_hostile_names_stay_text() -> None:
    name = '"},{"\x00\ud800</script>'
    data = gltf_files(plan_of(name, board_plan(name, PLY, ((0, 50), (0, 40), (0, 12)))), CHORD)
    for path, glb in data.items():
        document = json_of(glb)
        jsonschema.validate(document, get_schema())
        assert document["nodes"][1]["name"] == name.replace("\ud800", "?")
        assert "/" not in path
        assert '"' not in path
