"""The scene says what the kernel computed, in the form its schema states, whatever the names."""

import json
import struct
from pathlib import Path
from typing import Any

import jsonschema
import numpy as np
import pytest
from dryfit.kernel.export.gltf import gltf_files
from dryfit.kernel.export.scene import Meshes
from dryfit.kernel.plan import CutPlan
from dryfit.kernel.thresholds import EXPORT_CHORD
from dryfit.lang.cli import main
from dryfit.lang.inspection import Inspection, Request
from dryfit.lang.render import drawn, messages_of
from dryfit.viewer.looking import Looking
from dryfit.viewer.scene import Picture, picture
from scenes import SCHEMA, document, shown, shown_text
from served import TRAY

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.dry"))
BROKEN = sorted((ROOT / "examples" / "broken").glob("*.dry"))

VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


def ids(path: Path) -> str:
    return path.stem


def plan_of(inspection: Inspection) -> CutPlan:
    assert inspection.plan is not None
    return inspection.plan


def gltf(picture: Picture) -> dict[str, Any]:
    """The JSON chunk of the piece (glTF 2.0, 4.4)."""
    (length,) = struct.unpack_from("<I", picture.piece, 12)
    return dict(json.loads(picture.piece[20 : 20 + length]))


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.fixture(scope="module", params=EXAMPLES, ids=ids)
def example(request: pytest.FixtureRequest) -> tuple[Inspection, Picture]:
    return shown(request.param)


def test_an_example_has_the_form_stated(example: tuple[Inspection, Picture]) -> None:
    inspection, picture = example
    scene = document(picture)
    VALIDATOR.validate(scene)
    assert scene["checked"]
    assert scene["findings"] == []
    assert {board["name"] for board in scene["boards"]} == {
        one.board.name for one in plan_of(inspection).boards
    }


def test_an_example_goes_together_step_by_step(example: tuple[Inspection, Picture]) -> None:
    """Each step moves boards that do not stand yet into boards that stand, until all do."""
    scene = document(example[1])
    standing: set[frozenset[str]] = {frozenset([board["name"]]) for board in scene["boards"]}
    for step in scene["steps"]:
        moving, into = frozenset(step["moving"]), frozenset(step["into"])
        assert {moving, into} <= standing
        assert set(step["meets"]) <= into
        assert np.linalg.norm(step["direction"]) == pytest.approx(1)
        standing = standing - {moving, into} | {moving | into}
    assert len(standing) == 1


def test_boards_and_nodes_of_the_meshes_belong_together(
    example: tuple[Inspection, Picture],
) -> None:
    scene, meshes = document(example[1]), gltf(example[1])
    for board in scene["boards"]:
        extras = meshes["nodes"][board["node"]]["extras"]
        assert extras["board"] == board["name"]
        assert [extras[name] for name in ("length", "width", "thick")] == board["size_mm"]
        cuts = [(cut["joint"], cut["side"], cut["bit"]) for cut in extras["cuts"]]
        assert cuts == [(cut["joint"], cut["side"], cut["bit"]) for cut in board["cuts"]]


def test_names_lead_from_boards_to_joints_and_back(example: tuple[Inspection, Picture]) -> None:
    scene = document(example[1])
    joints = {joint["name"]: joint for joint in scene["joints"]}
    for board in scene["boards"]:
        assert all(board["name"] in joints[name]["boards"] for name in board["joints"])
    for joint in joints.values():
        for board in scene["boards"]:
            assert (board["name"] in joint["boards"]) == (joint["name"] in board["joints"])


def test_places_are_where_the_words_stand(example: tuple[Inspection, Picture]) -> None:
    inspection, scene = example[0], document(example[1])
    lines = (inspection.pages.by_file[inspection.file].text).splitlines()
    for board in scene["boards"]:
        place = board["place"]
        written = lines[place["line"] - 1][place["column"] - 1 :]
        assert written.startswith(board["name"].rpartition(".")[2].partition("[")[0])


def test_the_meshes_are_those_that_export_writes(example: tuple[Inspection, Picture]) -> None:
    files = gltf_files(plan_of(example[0]), EXPORT_CHORD)
    assert example[1].piece == next(iter(files.values()))


@pytest.mark.parametrize("path", BROKEN, ids=ids)
def test_a_broken_example_tells_its_findings_as_the_terminal_does(path: Path) -> None:
    inspection, picture = shown(path)
    scene = document(picture)
    VALIDATOR.validate(scene)
    said = [drawn(message, inspection.pages) for message in messages_of(inspection.findings)]
    assert [finding["text"] for finding in scene["findings"]] == said
    known = {board["name"] for board in scene["boards"]}
    for finding in scene["findings"]:
        assert set(finding["boards"]) <= known


def test_before_the_checks_all_but_their_part_is_there() -> None:
    inspection, whole = shown(ROOT / "examples" / "seed-tray.dry")
    first = Looking(Request(file=inspection.file)).seen(inspection)
    VALIDATOR.validate(document(first))
    early, late = document(first), document(whole)
    assert not early["checked"]
    assert early["steps"] == []
    assert {board["profile_svg"] for board in early["boards"]} == {None}
    for name in ("format", "made_by", "file", "design", "units", "joints", "motions"):
        assert early[name] == late[name]
    assert first.piece == whole.piece


def test_nothing_at_all_is_an_empty_scene() -> None:
    inspection, made = shown_text("")
    VALIDATOR.validate(document(made))
    assert inspection.plan is None or not inspection.plan.boards
    assert document(made)["boards"] == []
    assert gltf(made)["scenes"][0]["nodes"] == [0]


def test_other_programs_get_the_scene_too(capsys: pytest.CaptureFixture[str]) -> None:
    path = ROOT / "examples" / "seed-tray.dry"
    assert main(["show", str(path), "--as", "scene"]) == 0
    assert json.loads(capsys.readouterr().out) == document(shown(path)[1])
    broken = ROOT / "examples" / "broken" / "overlap-without-a-join.dry"
    assert main(["show", str(broken), "--as", "scene"]) == 1
    told = capsys.readouterr()
    VALIDATOR.validate(json.loads(told.out))
    assert "error[F102]" in told.err


# -- names, and what is kept ---------------------------------------------------------------------


HOSTILE = [
    "</script><script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "<!--",
    "]]>",
    "\u2028\u2029",
    "\u202egnirts",
    "'`${alert(1)}",
    "&lt;b&gt;",
    "\x7f",
    "\U0001f52a",
    "x" * 3000,
]


def titled(title: str) -> str:
    return TRAY.replace('"Seed tray"', json.dumps(title, ensure_ascii=False))


@pytest.mark.parametrize("title", HOSTILE, ids=range(len(HOSTILE)))
def test_a_hostile_title_is_text(title: str) -> None:
    made = shown_text(titled(title))[1]
    VALIDATOR.validate(document(made))
    assert document(made)["design"] == title


def test_boards_of_one_shape_are_meshed_once_and_kept() -> None:
    inspection, _ = shown(ROOT / "examples" / "seed-cabinet.dry")
    meshes = Meshes(EXPORT_CHORD)
    one = picture(inspection, meshes)
    made = meshes.made
    assert made < len(plan_of(inspection).boards) / 2
    assert picture(inspection, meshes) == one
    assert meshes.made == made


def test_boards_that_only_moved_are_not_meshed_again() -> None:
    """By lengths that no double holds, so that coordinates of cuts differ in their last digits."""

    def tray(x: int, y: int, z: int) -> Inspection:
        """Its corner at so many tenths of a mm."""

        def span(axis: str, low: int, high: int) -> str:
            at = {"x": x, "y": y, "z": z}[axis]
            return f"{axis} {(at + low) / 10}mm..{(at + high) / 10}mm"

        return shown_text(
            "stock ply12 { sheet 2440mm by 1220mm, thick 12mm }\n"
            "bit b6 { straight 6mm, flute 22mm }\n"
            f"board side of ply12 {span('x', 0, 120)} {span('y', 0, 800)} {span('z', 0, 600)}\n"
            f"board base of ply12 {span('x', 60, 2000)} {span('y', 0, 800)} {span('z', 111, 231)}\n"
            "join base into side with dado\n"
        )[0]

    meshes = Meshes(EXPORT_CHORD)
    picture(tray(0, 0, 0), meshes)
    assert meshes.made == 2
    moved = picture(tray(333, 7, 1001), meshes)
    assert meshes.made == 2
    assert moved == picture(tray(333, 7, 1001), Meshes(EXPORT_CHORD))
