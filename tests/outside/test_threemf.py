"""3MF read back by lib3mf, the 3MF Consortium's own reader, in its strict mode."""

import io
import math
import zipfile
from typing import Any

import lib3mf
import numpy as np
import pytest
from dryfit.kernel.export.threemf import threemf_files
from handmade import PLY, bench_plan, board_plan, plan_of

CHORD = 0.005
MILLIMETRE = 1  # eModelUnit of lib3mf
WRAPPER = lib3mf.get_wrapper()


def read(data: bytes) -> Any:
    model = WRAPPER.CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromBuffer(data)
    assert reader.GetWarningCount() == 0
    return model


def objects(model: Any) -> dict[str, Any]:
    found, every = {}, model.GetMeshObjects()
    while every.MoveNext():
        mesh = every.GetCurrentMeshObject()
        found[mesh.GetName()] = mesh
    return found


def volume(mesh: Any) -> float:
    points = np.array([list(v.Coordinates) for v in mesh.GetVertices()])
    corners = points[np.array([list(t.Indices) for t in mesh.GetTriangleIndices()])]
    return float(np.einsum("ij,ij->", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))) / 6


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    return threemf_files(bench_plan(), CHORD)


def test_lib3mf_reads_every_file_in_millimetres(files: dict[str, bytes]) -> None:
    assert list(files) == ["Bench.3mf", "left.3mf", "right.3mf", "shelf.3mf", "rail.3mf"]
    for data in files.values():
        assert int(read(data).GetUnit()) == MILLIMETRE


def test_objects_are_sound_and_named_after_their_boards(files: dict[str, bytes]) -> None:
    meshes = objects(read(files["Bench.3mf"]))
    assert list(meshes) == ["left", "right", "shelf", "rail"]
    assert all(mesh.IsManifoldAndOriented() for mesh in meshes.values())
    dado, hole = 150 * 12 * 5, math.pi * 20**2 * 12
    assert volume(meshes["left"]) == pytest.approx(300 * 150 * 12 - dado, rel=1e-6)
    slack = 2 * math.pi * 20 * 12 * CHORD
    assert volume(meshes["right"]) == pytest.approx(300 * 150 * 12 - dado - hole, abs=slack)
    assert volume(meshes["rail"]) == pytest.approx(200 * 40 * 20, rel=1e-6)


def test_items_put_the_boards_down(files: dict[str, bytes]) -> None:
    model = read(files["Bench.3mf"])
    meshes, items = objects(model), model.GetBuildItems()
    low, high = np.full(3, math.inf), np.full(3, -math.inf)
    while items.MoveNext():
        item = items.GetCurrent()
        fields = np.array([list(row) for row in item.GetObjectTransform().Fields])
        mesh = meshes[item.GetObjectResource().GetName()]
        points = np.array([list(v.Coordinates) for v in mesh.GetVertices()])
        placed = points @ fields[:3] + fields[3]
        low, high = np.minimum(low, placed.min(axis=0)), np.maximum(high, placed.max(axis=0))
    assert low == pytest.approx(np.zeros(3), abs=1e-4)
    assert high == pytest.approx(np.array([424, 154.64102, 340]), abs=1e-4)


def test_metadata_say_the_title_and_the_chord(files: dict[str, bytes]) -> None:
    model = read(files["Bench.3mf"])
    group = model.GetMetaDataGroup()
    said = {}
    for index in range(group.GetMetaDataCount()):
        entry = group.GetMetaData(index)
        said[entry.GetName()] = entry.GetValue()
    assert said == {"Title": "Bench", "Application": "dryfit", "Description": "chord 0.005mm"}


def test_materials_are_the_stocks(files: dict[str, bytes]) -> None:
    model = read(files["Bench.3mf"])
    groups = model.GetBaseMaterialGroups()
    assert groups.MoveNext()
    group = groups.GetCurrentBaseMaterialGroup()
    names = [group.GetName(number) for number in group.GetAllPropertyIDs()]
    assert names == ["ply12", "oak20"]


def test_hostile_names_stay_text() -> None:
    name = '"/><item objectid="9\x00&\ufffe]]>'
    files = threemf_files(plan_of(name, board_plan(name, PLY, ((0, 50), (0, 40), (0, 12)))), CHORD)
    for data in files.values():
        assert list(objects(read(data))) == ['"/><item objectid="9\ufffd&\ufffd]]>']


def test_the_zip_tells_nothing_of_when_it_was_written(files: dict[str, bytes]) -> None:
    with zipfile.ZipFile(io.BytesIO(files["left.3mf"])) as box:
        assert box.testzip() is None
        assert box.namelist() == ["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"]
        assert {entry.date_time for entry in box.infolist()} == {(1980, 1, 1, 0, 0, 0)}
