"""An edit that a message offers mends what the message tells: every page with one is tried."""

import codecs
import re
from pathlib import Path

import pytest
from dryfit.kernel.finding import Place
from dryfit.lang.cli import main
from dryfit.lang.fixes import Fix, fixed
from dryfit.lang.messages.words import Edit

PAGES = Path(__file__).parents[2] / "lang" / "explain"
PROGRAM = re.compile(r"## It says\n\n```dry\n(.*?)```\n\n```text\n(.*?)```", re.DOTALL)
TOLD = re.compile(r"^(?:error|warning)\[([A-Z]\d{3})\]", re.MULTILINE)
MENDED = re.compile(r": mended ([A-Z]\d{3}): ")


def programs() -> list[tuple[str, str]]:
    """(code, failing program) of every page whose program stands alone."""
    found = []
    for page in sorted(PAGES.glob("*.md")):
        shown = PROGRAM.search(page.read_text("utf-8"))
        if shown is not None:
            found.append((page.stem, shown[1]))
    return found


@pytest.mark.parametrize(("code", "program"), programs(), ids=lambda value: value[:4])
def test_what_is_mended_is_not_told_again(
    code: str, program: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "piece.dry"
    file.write_text(program, "utf-8")
    main(["check", str(file)])
    before = TOLD.findall(capsys.readouterr().out)
    main(["check", "--fix", str(file)])
    shown = capsys.readouterr()
    mended = MENDED.findall(shown.err)
    assert (file.read_text("utf-8") == program) == (not mended)
    after = TOLD.findall(shown.out)
    for one in set(mended):
        assert after.count(one) <= before.count(one) - mended.count(one), shown.out


def test_pages_with_an_edit_are_tried() -> None:
    """The test above would pass if no page offered one."""
    tried = {code for code, _ in programs()}
    assert {"S112", "N101", "J209", "F201", "U101"} <= tried


def test_the_rest_of_the_file_stays_as_it_is(tmp_path: Path) -> None:
    """Byte order mark, line ends and comments."""
    text = "stock ply12 { thick 12mm }\r\nboard a ply12 x 0mm..9mm y 0mm..12mm z 0mm..9mm # é\r\n"
    file = tmp_path / "piece.dry"
    file.write_bytes(codecs.BOM_UTF8 + text.encode())
    assert main(["check", "--fix", str(file)]) == 0
    assert file.read_bytes() == codecs.BOM_UTF8 + text.replace("a ply12", "a of ply12").encode()


def test_edits_are_made_from_the_end(tmp_path: Path) -> None:
    made = [
        Fix("S112", "", Edit(Place("f", 0, 1), "one")),
        Fix("S112", "", Edit(Place("f", 4, 5), "three")),
        Fix("S112", "", Edit(Place("f", 3, 3), "two ")),
    ]
    assert fixed("1  3", [made[0], made[2]]) == "one  two 3"
    assert fixed("1 2 3", made[:2]) == "one 2 three"
