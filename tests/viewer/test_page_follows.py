"""An open page follows its design, and a large one stays quick to the hand."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from dryfit.kernel.export.scene import Meshes
from dryfit.lang.cli import main
from dryfit.lang.files import MemoryFiles
from dryfit.lang.inspection import Request, planned
from dryfit.viewer.pagefiles import page_files
from dryfit.viewer.scene import picture
from paged import box, click, colour, is_wood, met, opened_page, page_of, state
from playwright.sync_api import Browser, Page, Route, expect
from served import TRAY, serving

BROKEN = TRAY.replace("board base of ply12", "board base ply12")
COARSE = 0.5
"""A chord, mm, for many boards whose arcs nobody looks at."""


@pytest.fixture
def design(tmp_path: Path) -> Path:
    path = tmp_path / "tray.dry"
    path.write_text(TRAY)
    return path


@pytest.fixture
def tab(browser: Browser, design: Path) -> Iterator[Page]:
    with serving(design, page_files()) as served, opened_page(browser, served.address) as made:
        made.wait_for_function("() => dryfit.state.checked")
        yield made


def test_a_save_changes_the_picture_and_nothing_that_was_asked_for(tab: Page, design: Path) -> None:
    tab.mouse.move(400, 300)
    tab.mouse.down()
    tab.mouse.move(440, 320, steps=3)
    tab.mouse.up()
    tab.get_by_role("treeitem", name="base").click()
    tab.get_by_role("button", name="Faint").click()
    before = state(tab)
    design.write_text(TRAY.replace("200mm", "300mm"))
    tab.wait_for_function("() => dryfit.box('base')[1][0] === 300")
    after = state(tab)
    kept = ("camera", "pickedBoards", "ghosts", "leaf", "theme", "units")
    assert {key: after[key] for key in kept} == {key: before[key] for key in kept}
    expect(tab.get_by_label("What is picked")).to_contain_text("292 ×")
    tab.wait_for_function("() => dryfit.state.checked && dryfit.state.counts.steps === 1")


def test_what_a_picture_is_drawn_with_is_made_while_the_scene_is_on_its_way(
    browser: Browser, design: Path
) -> None:
    """Boards, edges, shadows and the floor, a program each."""
    with serving(design, page_files()) as served:
        tab = browser.new_page()
        held: list[Route] = []

        def hold(route: Route) -> None:
            held.append(route)

        tab.route("**/scene.glb", hold)
        with tab.expect_request("**/scene.glb"):
            tab.goto(served.address)
        tab.wait_for_function("() => window.dryfit && dryfit.state.made.programs === 4")
        assert state(tab)["frames"] == 0
        held[0].continue_()
        tab.wait_for_function("() => dryfit.state.times.first > 0")
        assert state(tab)["made"] == {"forms": 2, "programs": 4}
        tab.close()


def test_what_an_edit_leaves_as_it_was_is_not_made_again(tab: Page, design: Path) -> None:
    """Longer, the base has another shape and the side has not; lifted, the base only moves and the
    side, whose dado is lifted too, has another. A frame shows each; that nothing was found shows
    in the words alone."""
    before = state(tab)
    assert before["made"]["forms"] == 2
    design.write_text(TRAY.replace("200mm", "300mm"))
    tab.wait_for_function("() => dryfit.box('base')[1][0] === 300 && dryfit.state.checked")
    longer = state(tab)
    assert longer["made"] == {**before["made"], "forms": 3}
    design.write_text(TRAY.replace("200mm", "300mm").replace("10mm..22mm", "14mm..26mm"))
    tab.wait_for_function("() => dryfit.box('base')[0][2] === 14 && dryfit.state.checked")
    lifted = state(tab)
    assert lifted["made"] == {**before["made"], "forms": 4}
    assert lifted["frames"] - before["frames"] == 2
    assert met(tab, 150, 0, 20) == "base"
    assert is_wood(colour(tab, 150, 40, 26))


def test_what_a_check_finds_is_drawn(tab: Page, design: Path) -> None:
    """One frame for the boards as they share wood, one for the wood they share."""
    before = state(tab)
    design.write_text(TRAY[: TRAY.index("join")])
    tab.wait_for_function("() => dryfit.state.checked && dryfit.state.counts.findings > 0")
    after = state(tab)
    assert after["marks"]["lumps"] == 1
    assert after["frames"] - before["frames"] == 2
    assert [label["kind"] for label in after["marks"]["labels"]] == ["finding"]


def test_an_opened_piece_stays_open(tab: Page, design: Path) -> None:
    tab.get_by_role("button", name="Open up").click()
    apart = box(tab, "base")[0][0]
    design.write_text(TRAY.replace("z 0mm..60mm", "z 0mm..66mm"))
    tab.wait_for_function("() => dryfit.box('side')[1][2] === 66")
    assert state(tab)["line"]["at"] == 0
    assert box(tab, "base")[0][0] == pytest.approx(apart, abs=1)
    tab.wait_for_function("() => dryfit.state.checked")
    assert state(tab)["line"]["at"] == 0


def test_a_part_that_goes_is_let_go(tab: Page, design: Path) -> None:
    tab.get_by_role("treeitem", name="base").click()
    design.write_text("\n".join(TRAY.splitlines()[:4]) + "\n")
    tab.wait_for_function("() => dryfit.state.counts.boards === 1")
    assert state(tab)["picked"] is None


def test_a_broken_text_is_told_over_the_last_picture_as_the_terminal_tells_it(
    tab: Page, design: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = state(tab)["visible"]
    design.write_text(BROKEN)
    notice = tab.get_by_role("alert")
    expect(notice).to_contain_text("The picture is of the text before")
    assert main(["check", str(design)]) == 1
    printed = capsys.readouterr().out
    told = state(tab)["broken"]
    assert told
    for message in told:
        assert message["text"].strip() in printed
        expect(notice).to_contain_text(message["text"].splitlines()[0])
    assert state(tab)["visible"] == before
    assert met(tab, 100, 0, 16) == "base"
    design.write_text(TRAY)
    expect(notice).to_be_hidden()
    assert state(tab)["broken"] is None


def test_a_thousand_boards_load_and_answer(browser: Browser, tmp_path: Path) -> None:
    """One board a slat, ten by a hundred; half a minute is a bound against hanging only."""
    slats = "\n".join(
        f"for i in 1..100 {{ board slat{row}[i] of ply12 "
        f" x (i - 1)*14mm..(i - 1)*14mm + 12mm  y 0mm..60mm  z {row * 70}mm..{row * 70 + 60}mm }}"
        for row in range(10)
    )
    text = f'design "Slats"\nstock ply12 {{ sheet 2440mm by 1220mm, thick 12mm }}\n{slats}\n'
    inspection = planned(Request(file="slats.dry"), MemoryFiles({"slats.dry": text}))
    assert inspection.findings == ()
    page = page_of(picture(inspection, Meshes(COARSE)), tmp_path / "slats.html")
    with opened_page(browser, page.as_uri()) as tab:
        told = state(tab)
        assert told["counts"]["boards"] == 1000
        assert told["times"]["first"] < 30_000
        click(tab, 6, 0, 30)
        assert state(tab)["pickedBoards"] == ["slat0[1]"]
        tab.keyboard.press("h")
        assert len(state(tab)["visible"]) == 999
        assert box(tab, "slat9[100]")[1] == [1398, 60, 690]
        tab.keyboard.press("/")
        tab.keyboard.type("slat9[100]")
        expect(tab.get_by_role("treeitem")).to_have_count(1)
