"""Tests that stand in designs: as a command, as JUnit, and as pytest items, all of one mind."""

import json
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from dryfit.kernel import measure
from dryfit.kernel.plan import cut_plan
from dryfit.kernel.solids import Bodies
from dryfit.lang import load
from dryfit.lang.cli import main

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.dry"))
DESIGN = """design "Shelf <&"
stock ply12 { thick 12mm }
board shelf of ply12  x 0..400mm  y 0..300mm  z 0..12mm
test "long <enough>" {
  expect length(shelf) >= 500mm
}
test "wide" {
  expect width(shelf) == 300mm
}
"""
BROKEN = DESIGN.replace("shelf of", "shelf off")


def told(*arguments: str, capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    code = main(["test", *arguments])
    return code, capsys.readouterr().out


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    file = tmp_path / "shelf.dry"
    file.write_text(DESIGN, "utf-8")
    return file


def test_a_failure_shows_what_was_measured_and_by_how_much_it_misses(
    shelf: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out = told(str(shelf), capsys=capsys)
    assert code == 1
    assert "400mm: it misses by 100mm" in out
    assert 'fails: "long <enough>"' in out
    assert out.endswith("shelf.dry: 1 of 2 tests fails\n")


def test_only_some(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert told(str(shelf), "-k", "wide", capsys=capsys) == (0, f"{shelf}: 1 test holds\n")


def test_a_title_that_no_test_has_does_not_pass_for_success(
    shelf: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["test", str(shelf), "-k", "wyde"]) == 2
    assert 'no test has a title that holds "wyde"' in capsys.readouterr().err


def test_measures_serve_tests_in_python(shelf: Path) -> None:
    """As DEVELOPERS.md shows it."""
    design = load(shelf).value
    assert design is not None
    plan = cut_plan(design).value
    assert plan is not None
    bodies = Bodies(plan)
    assert measure.length(bodies, "shelf") == 400
    assert measure.volume(bodies, "shelf") == pytest.approx(400 * 300 * 12)
    assert measure.volume(bodies, "no such board") is None


def test_settings_reach_the_design(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "shelf.dry"
    text = DESIGN.replace("0..400mm", "0..long").replace('<&"', '<&"\nparam long = 400mm')
    file.write_text(text, "utf-8")
    assert told(str(file), "--set", "long=510mm", capsys=capsys)[0] == 0


def test_json(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = told(str(shelf), "--format", "json", capsys=capsys)
    (file,) = json.loads(out)["files"]
    assert code == 1
    assert [(t["name"], t["holds"]) for t in file["tests"]] == [
        (None, True),
        ("long <enough>", False),
        ("wide", True),
    ]
    assert [f["code"] for t in file["tests"] for f in t["findings"]] == ["T101"]


def suite(text: str) -> ET.Element:
    (found,) = ET.fromstring(text)  # noqa: S314 - our own, a moment old
    return found


def test_junit(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = suite(told(str(shelf), "--format", "junit", capsys=capsys)[1])
    assert (found.get("tests"), found.get("failures")) == ("3", "1")
    assert [case.get("name") for case in found] == ["the design", "long <enough>", "wide"]
    failure = found[1][0]
    assert failure.tag == "failure"
    assert "it misses by 100mm" in (failure.text or "")


def test_a_design_that_cannot_be_made_out_fails_and_its_tests_are_not_tried(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "broken.dry"
    file.write_text(BROKEN, "utf-8")
    code, out = told(str(file), "--format", "junit", capsys=capsys)
    assert code == 1
    cases = {case.get("name"): [part.tag for part in case] for case in suite(out)}
    assert cases["the design"] == ["failure"]
    assert cases.get("wide", ["skipped"]) == ["skipped"]


def test_overlaps_fail_the_claim_of_no_interference(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    twice = DESIGN.replace("test", "board twin of ply12 x 0..400mm y 0..300mm z 4mm..16mm\ntest", 1)
    file = tmp_path / "twice.dry"
    file.write_text(twice + 'test "apart" {\n  expect no interference\n}\n', "utf-8")
    assert 'fails: "apart"' in told(str(file), capsys=capsys)[1]


def cases_of(text: str) -> list[tuple[str, bool]]:
    """Each case's name, and whether it holds."""
    found = ET.fromstring(text).iter("testcase")  # noqa: S314 - made a moment ago
    return sorted((str(case.get("name")), len(case) == 0) for case in found)


def test_pytest_and_the_command_agree(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """On every example, and on a design that fails."""
    folder = shelf.parent
    for example in EXAMPLES:
        (folder / example.name).write_bytes(example.read_bytes())
    files = map(str, sorted(folder.glob("*.dry")))
    ours = cases_of(told(*files, "--format", "junit", capsys=capsys)[1])
    report = folder / "report.xml"
    plain = [
        sys.executable,
        "-m",
        "pytest",
        "-q",
        "-p",
        "no:cacheprovider",
        "--rootdir",
        str(folder),
    ]
    subprocess.run([*plain, f"--junitxml={report}", str(folder)], check=False, cwd=folder)
    assert [name for name, holds in ours if not holds] == ["long <enough>"]
    assert cases_of(report.read_text("utf-8")) == ours
