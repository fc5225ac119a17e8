"""The reference of the language is true: its programs check clean, its lists are whole."""

import re
from pathlib import Path

import pytest
from dryfit.kernel.relief import Relief
from dryfit.lang.builtins import FUNCTIONS
from dryfit.lang.cli import main
from dryfit.lang.measures import CLAIMS, MEASURES

REFERENCE = (Path(__file__).parents[2] / "lang" / "REFERENCE.md").read_text("utf-8")
PROGRAMS = re.findall(r"```dry\n(.*?)```", REFERENCE, re.DOTALL)


@pytest.mark.parametrize("number", range(len(PROGRAMS)))
def test_program_checks_clean(
    number: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "piece.dry"
    file.write_text(PROGRAMS[number], "utf-8")
    assert main(["check", str(file)]) == 0, capsys.readouterr().out


def test_every_function_measure_claim_and_relief_is_told() -> None:
    prose = re.sub(r"```.*?```", "", REFERENCE, flags=re.DOTALL)
    told = set(re.findall(r"\w+", " ".join(re.findall(r"`([^`]+)`", prose))))
    assert told >= set(FUNCTIONS) | set(MEASURES) | {relief.value for relief in Relief}
    assert all(f"`{claim}`" in REFERENCE for claim in CLAIMS)
