"""What a test asks for that cannot be: told at its own line, and it fails no other test."""

from __future__ import annotations

from pathlib import Path

import pytest
from dryfit.lang.cli import main

SHELF = """design "Seed shelf"
param shelved = true
stock ply12 { thick 12mm }
bit   b6    { straight 6mm, flute 22mm }
board side  of ply12  x 0mm..12mm   y 0mm..200mm  z 0mm..180mm
board shelf of ply12  x 8mm..300mm  y 0mm..200mm  z 100mm..112mm
if shelved { join shelf into side with dado as shelf_dado }
"""
SOUND = 'test "sound" { expect length(shelf) == 292mm }\n'


def said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], asked: str, *more: str
) -> tuple[int, str]:
    """The exit code of `dryfit test` and what it printed."""
    file = tmp_path / "shelf.dry"
    file.write_text(f'{SHELF}{SOUND}test "amiss" {{\n  expect {asked}\n}}\n', "utf-8")
    code = main(["test", str(file), *more])
    streams = capsys.readouterr()
    return code, streams.out + streams.err


@pytest.mark.parametrize(
    ("asked", "code"),
    [
        pytest.param("length(shelve) == 292mm", "N101", id="a board nobody put down"),
        pytest.param("fit(shelf, left) > 0mm", "N101", id="a mate nobody put down"),
        pytest.param("length(shelf) within 300mm..200mm", "U107", id="bounds the wrong way round"),
        pytest.param("length(shelf) == 292", "U102", id="a length against a count"),
        pytest.param("length(shelf) == 292mm2", "U102", id="a length against an area"),
        pytest.param("length(shelf) within 2kg..3kg", "U102", id="a length within masses"),
        pytest.param("volume(shelf) + length(side) > 0mm", "U102", id="a volume and a length"),
        pytest.param("mass(shelf) > 20deg", "U102", id="a mass against an angle"),
        pytest.param("glue_area(shelf_lap) > 0mm2", "T107", id="a joint nobody put down"),
    ],
)
def test_what_cannot_be_asked_is_told_at_its_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], asked: str, code: str
) -> None:
    status, text = said(tmp_path, capsys, asked)
    assert status == 1
    assert code in text
    assert "shelf.dry:10:" in text


def test_bounds_that_nothing_meets_fail_with_the_figure(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status, text = said(tmp_path, capsys, "length(shelf) within -2mm..-1mm")
    assert status == 1
    assert "T101" in text
    assert "292" in text


@pytest.mark.parametrize(
    ("asked", "code"),
    [
        ("glue_area(shelf_dado) > 0mm2", "T107"),
        ("fit(shelf, side) >= 0mm", "T103"),
    ],
)
def test_a_joint_that_was_removed_is_told_where_a_test_names_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], asked: str, code: str
) -> None:
    """The same test holds with the joint, and without it says what is missing."""
    status, text = said(tmp_path, capsys, asked)
    assert status == 0, text
    status, text = said(tmp_path, capsys, asked, "--set", "shelved=false")
    assert status == 1
    assert code in text


@pytest.mark.parametrize("name", ["mass", "sides_cut", "max"])
def test_a_measure_without_its_board_is_told_how_it_is_written(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, text = said(tmp_path, capsys, f"{name} < 2")
    assert "error[N101]" in text
    assert f"say in parentheses of what it is asked: `{name}(…)`" in text
