"""What the README shows is what the tool does."""

import re
from pathlib import Path

import pytest
from dryfit.lang.cli import main

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")


def test_program_checks_clean(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    program = re.search(r"## A program\n\n```\n(.*?)```", README, re.DOTALL)
    assert program is not None
    file = tmp_path / "tray.dry"
    file.write_text(program[1], "utf-8")
    assert main(["check", str(file)]) == 0, capsys.readouterr().out


def test_message_is_drawn_as_shown(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    message = re.search(r"<!-- message -->.*?```text\n(.*?)```", README, re.DOTALL)
    assert message is not None
    monkeypatch.chdir(ROOT / "examples" / "broken")
    assert main(["check", "pins-too-narrow.dry"]) == 1
    assert capsys.readouterr().out == message[1]


def test_main_job_is_a_check_and_an_export() -> None:
    command = re.search(r"<!-- main job -->\n```sh\n(.*?)```", README, re.DOTALL)
    assert command is not None
    assert "dryfit check examples/" in command[1]
    assert "dryfit export examples/" in command[1]
    for name in re.findall(r"examples/[\w-]+\.dry", command[1]):
        assert (ROOT / name).is_file()
