"""The catalogue of joints: what `dryfit joints` lists and draws."""

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from dryfit.kernel.joints import WHERE
from dryfit.lang.catalogue import Entry, page, sheet
from dryfit.lang.cli import main
from dryfit.lang.commands.joints import PROGRAMS

SVG = "{http://www.w3.org/2000/svg}"


def parsed(text: str) -> ET.Element:
    return ET.fromstring(text)  # noqa: S314 - our own, a moment old


def test_every_family_is_listed_on_a_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["joints"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split()[0] for line in lines] == list(WHERE)


def test_every_family_has_a_program() -> None:
    assert {path.stem for path in PROGRAMS.glob("*.dry")} >= set(WHERE)


def test_a_page_a_sheet_and_two_drawings_a_program(tmp_path: Path) -> None:
    assert main(["joints", "--to", str(tmp_path)]) == 0
    names = {path.stem for path in PROGRAMS.glob("*.dry")}
    drawn = {f"{name}-{how}.svg" for name in names for how in ("closed", "apart")}
    written = {path.name for path in tmp_path.iterdir() if not path.name.startswith(".")}
    pages = {f"{name}.html" for name in WHERE}
    assert written == drawn | pages | {"index.html", "joints.svg"}
    html = (tmp_path / "index.html").read_text("utf-8")
    assert all(f'src="{name}"' in html for name in drawn)
    for name in pages:
        assert f'href="{name}"' in html
        shown = re.findall(r'(?:src|href)="([^"]+)"', (tmp_path / name).read_text("utf-8"))
        assert len(shown) == 3
        assert set(shown) <= written
    titles = [
        t.text for t in parsed((tmp_path / "joints.svg").read_text("utf-8")).iter(f"{SVG}text")
    ]
    assert "Box joint" in titles
    for name in sorted(names - {"butt"}):
        closed, apart = (tmp_path / f"{name}-{how}.svg" for how in ("closed", "apart"))
        assert closed.read_text("utf-8") != apart.read_text("utf-8"), name


def test_words_are_text() -> None:
    hostile = Entry(
        name="a", family="box", title="<b>&", words="<i>", program="</pre><script>",
        closed='<svg width="1" height="1"></svg>', apart='<svg width="1" height="1"></svg>',
    )  # fmt: skip
    html = page([hostile])
    assert "<script>" not in html
    assert "<b>" not in html
    parsed(sheet([hostile]))
