"""Every example checks clean and gives the same bytes twice; every broken one shows its finding."""

import re
import subprocess
import sys
from pathlib import Path

import pytest
from dryfit.kernel.joints import families
from dryfit.lang import load
from dryfit.lang.cli import main
from dryfit.lang.commands.joints import small_sheet

ROOT = Path(__file__).parents[1]
EXAMPLES = sorted((ROOT / "examples").glob("*.dry"))
BROKEN = sorted((ROOT / "examples" / "broken").glob("*.dry"))
SHOWN = re.compile(r"^(?:error|warning)\[([A-Z]\d{3})\]", re.MULTILINE)


def ids(path: Path) -> str:
    return path.stem


@pytest.mark.parametrize("path", EXAMPLES, ids=ids)
def test_example_checks_clean(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(path)]) == 0, capsys.readouterr().out


def test_every_joint_is_used_in_some_example() -> None:
    used = set()
    for path in EXAMPLES:
        design = load(path).value
        assert design is not None
        used |= {join.family for join in design.joins}
        assert design.tests or not design.joins, f"{path.stem} expects nothing"
    assert used == {family.name for family in families()}


@pytest.mark.parametrize("path", BROKEN, ids=ids)
def test_broken_example_shows_its_finding_alone(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    promised = re.findall(r"# shows ([A-Z]\d{3})", path.read_text("utf-8"))
    assert len(promised) == 1
    assert main(["check", str(path)]) == 1
    assert SHOWN.findall(capsys.readouterr().out) == promised


def exported(path: Path, to: Path, seed: str) -> dict[str, bytes]:
    """What a fresh process writes, under a hash seed of its own."""
    command = [str(Path(sys.executable).parent / "dryfit"), "export", str(path), "--to", str(to)]
    command += ["--as", "stl,glb,3mf,svg,dxf"]
    subprocess.run(command, check=True, env={"PYTHONHASHSEED": seed}, capture_output=True)
    return {str(p.relative_to(to)): p.read_bytes() for p in to.rglob("*") if p.is_file()}


def test_two_fresh_processes_write_the_same_bytes(tmp_path: Path) -> None:
    path = ROOT / "examples" / "potting-stool.dry"
    one, two = exported(path, tmp_path / "1", "1"), exported(path, tmp_path / "2", "2")
    assert len(one) > 10
    assert one == two


def test_readme_picture_is_the_example_as_drawn_today(capsys: pytest.CaptureFixture[str]) -> None:
    cabinet = str(ROOT / "examples" / "seed-cabinet.dry")
    main(["show", cabinet, "--set", "pulled=130mm", "--as", "picture"])
    drawn = capsys.readouterr().out.strip()
    assert (ROOT / "examples" / "seed-cabinet.svg").read_text("utf-8").strip() == drawn


def test_readme_picture_of_joints_is_as_drawn_today() -> None:
    assert (ROOT / "examples" / "joints.svg").read_text("utf-8") == small_sheet()
