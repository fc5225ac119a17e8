"""The catalogue of joints: what `dryfit joints` lists and draws."""

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from dryfit.kernel.joints import WHERE
from dryfit.lang.catalogue import Drawing, Entry, page
from dryfit.lang.cli import main
from dryfit.lang.commands.joints import PROGRAMS, VIEWS
from dryfit.lang.sheet import Figure, Layout, Panel, sheet

SVG = "{http://www.w3.org/2000/svg}"


def parsed(text: str) -> ET.Element:
    return ET.fromstring(text)  # noqa: S314 - our own, a moment old


def test_every_family_is_listed_on_a_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["joints"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split()[0] for line in lines] == list(WHERE)


def test_every_family_has_a_program() -> None:
    assert {path.stem for path in PROGRAMS.glob("*.dry")} >= set(WHERE)


def test_a_page_a_sheet_and_four_drawings_a_program(tmp_path: Path) -> None:
    assert main(["joints", "--to", str(tmp_path)]) == 0
    names = {path.stem for path in PROGRAMS.glob("*.dry")}
    drawn = {f"{name}-{how}.svg" for name in names for how, _ in VIEWS}
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
    whole = parsed((tmp_path / "joints.svg").read_text("utf-8"))
    assert "Box joint" in [text.text for text in whole.iter(f"{SVG}text")]
    assert len({board_groups(figure) for figure in whole.findall(f"{SVG}g")}) >= len(names)
    for name in sorted(names):
        seen = {(tmp_path / f"{name}-{how}.svg").read_text("utf-8") for how, _ in VIEWS}
        assert len(seen) == len(VIEWS), name


def board_groups(figure: ET.Element) -> tuple[str, ...]:
    """What is painted of each board."""
    return tuple(
        path.get("d", "")
        for group in figure.iter(f"{SVG}g")
        if group.get("data-board")
        for path in group
    )


def test_words_are_text() -> None:
    hostile = Entry(
        name="a", family="box", title="<b>&", words="<i>", program="</pre><script>",
        drawings=(Drawing(ending="closed", shows="<u>", text="<svg></svg>", width=1),),
    )  # fmt: skip
    html = page([hostile])
    for tag in ("<script>", "<b>", "<i>", "<u>"):
        assert tag not in html
    panel = Panel("<b>&", "<i>", (Figure("<path/>", 10, 20),))
    assert len(parsed(sheet("<u>", [panel], Layout(columns=2, scale=0.5)))) == 6


def test_a_sheet_stands_in_columns_on_one_foot() -> None:
    """Two columns of panels of two figures: places as wide as the widest figure, at half scale."""
    low, high = Figure("<path/>", 40, 20), Figure("<path/>", 60, 100)
    panels = [Panel("one", "", (low, high)), Panel("two", "", (high, low))]
    root = parsed(sheet("all", panels, Layout(columns=2, scale=0.5)))
    placed = [
        tuple(map(float, re.findall(r"[\d.]+", group.get("transform", ""))))
        for group in root.findall(f"{SVG}g")
    ]
    feet = {y + figure.height / 2 for (_, y, _), figure in
            zip(placed, (low, high, high, low), strict=True)}  # fmt: skip
    assert len(feet) == 1
    lefts = [x for x, _, _ in placed]
    assert lefts[1] - lefts[0] == lefts[3] - lefts[2] == 30 + 14
    assert {scale for _, _, scale in placed} == {0.5}
