"""The page takes a piece apart and puts it together as its order says; drawers move; findings are
shown where they are; lengths are measured."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from paged import (
    box,
    click,
    colour,
    example_page,
    met,
    opened_page,
    page_of,
    pixel,
    set_range,
    state,
)
from playwright.sync_api import Browser, Page, expect
from scenes import document, shown_text
from served import TRAY
from test_scene_marks import DRAWER

ROOM = 8.0
"""At least so far apart is what is drawn apart, mm."""


@pytest.fixture(scope="module")
def saved(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return example_page("seed-cabinet", tmp_path_factory.mktemp("page"))


@pytest.fixture
def tab(browser: Browser, saved: Path) -> Iterator[Page]:
    with opened_page(browser, saved.as_uri()) as made:
        yield made


@pytest.fixture
def steps(tab: Page) -> list[dict[str, Any]]:
    text = tab.evaluate("document.getElementById('dryfit-scene').textContent")
    return list(json.loads(text)["steps"])


def boxes(tab: Page) -> dict[str, tuple[list[float], list[float]]]:
    return {name: box(tab, name) for name in state(tab)["visible"]}


# -- apart and together --------------------------------------------------------------------------


def test_the_line_undoes_the_last_step_first_and_the_way_it_goes_in(
    tab: Page, steps: list[dict[str, Any]]
) -> None:
    whole = boxes(tab)
    for number in (len(steps), len(steps) - 3):
        set_range(tab, "Steps", number - 0.5)
        undone = {name for step in steps[number - 1 :] for name in step["moving"]}
        now = boxes(tab)
        assert {name for name in whole if now[name] != whole[name]} == undone
        step = steps[number - 1]
        for name in step["moving"]:
            by = [a - b for a, b in zip(now[name][0], whole[name][0], strict=True)]
            back = -sum(a * b for a, b in zip(by, step["direction"], strict=True))
            assert back >= (step["distance_mm"] + ROOM) / 2 - 1e-6
            assert max(abs(by[k] + back * step["direction"][k]) for k in range(3)) < 1e-6
        assert state(tab)["line"]["words"].endswith(in_units(step))


def test_opened_up_no_part_stands_in_another_and_all_stays_in_the_picture(tab: Page) -> None:
    tab.get_by_role("button", name="Open up").click()
    assert state(tab)["line"]["at"] == 0
    apart = boxes(tab)
    names = list(apart)
    assert len(names) == 25
    for i, one in enumerate(names):
        for other in names[:i]:
            (low, high), (bottom, top) = apart[one], apart[other]
            depth = min(min(high[k], top[k]) - max(low[k], bottom[k]) for k in range(3))
            assert depth <= 0.5, (one, other)
    frame = tab.locator("canvas.picture").bounding_box()
    assert frame is not None
    for low, high in apart.values():
        for corner in (low, high):
            x, y = pixel(tab, *corner)
            assert frame["x"] <= x <= frame["x"] + frame["width"]
            assert frame["y"] <= y <= frame["y"] + frame["height"]
    tab.get_by_role("button", name="Put together").click()
    assert box(tab, "top") == ([0, 0, 508], [360, 240, 520])


def test_a_step_shows_what_it_is_about_with_its_words(
    tab: Page, steps: list[dict[str, Any]]
) -> None:
    tab.get_by_role("button", name="Step on").click()
    told = state(tab)
    first = steps[0]
    assert set(told["visible"]) == {*first["moving"], *first["into"]}
    expect(tab.get_by_label("Steps of assembly")).to_contain_text(in_units(first))
    expect(tab.get_by_role("status")).to_contain_text(f"Step 1 of {len(steps)}")
    tab.wait_for_function("() => dryfit.state.line.at === 1")
    tab.get_by_role("button", name="Step on").click()
    expect(tab.get_by_label("Steps of assembly")).to_contain_text(in_units(steps[1]))
    tab.get_by_role("button", name="Step back").click()
    assert set(state(tab)["visible"]) == {*steps[1]["moving"], *steps[1]["into"]}
    tab.get_by_role("button", name="Step back").click()
    assert set(state(tab)["visible"]) == {*first["moving"], *first["into"]}


def test_a_step_that_rests_at_its_end_is_gone_back_over(
    tab: Page, steps: list[dict[str, Any]]
) -> None:
    """Told once more, though what moves is home already; the next step is not begun."""
    tab.evaluate("""() => new Promise((done) => {
        const press = (name) => document.querySelector(`button[aria-label="${name}"]`).click();
        press("Step on");
        const look = () => {
            if (dryfit.state.line.at < 1) return requestAnimationFrame(look);
            press("Step back");
            done();
        };
        look();
    })""")
    told = state(tab)
    assert told["line"]["step"] == 0
    assert set(told["visible"]) == {*steps[0]["moving"], *steps[0]["into"]}


def in_units(step: dict[str, Any]) -> str:
    """A step's words as the page writes lengths: the unit stands beside the number."""
    length = f"{round(step['distance_mm'], 1):g}mm"
    assert step["words"].endswith(f", {length}")
    return f"{step['words'].removesuffix('mm')} mm"


def test_a_step_tells_how_far_it_goes_in_the_readers_units(tab: Page) -> None:
    tab.get_by_role("button", name="Step on").click()
    line = tab.get_by_label("Steps of assembly")
    expect(line).to_contain_text("along +x, 12 mm")
    tab.keyboard.press("u")
    expect(line).to_contain_text("along +x, 15/32 in")


def test_playing_goes_to_the_end_and_leaves_the_whole_piece(
    browser: Browser, tmp_path: Path
) -> None:
    _, picture = shown_text(TRAY)
    page = page_of(picture, tmp_path / "tray.html")
    with opened_page(browser, page.as_uri(), reduced_motion="no-preference") as tab:
        tab.get_by_role("button", name="Play").click()
        tab.wait_for_function("() => dryfit.state.line.playing && dryfit.state.line.at > 0.2")
        assert 0 < state(tab)["line"]["at"] < 1, "it moves, and does not jump"
        tab.wait_for_function("() => !dryfit.state.line.playing && !dryfit.state.line.stepping")
        assert state(tab)["line"]["words"] == "Together, in 1 step"


def test_a_drawer_moves_along_its_travel(tab: Page) -> None:
    tab.get_by_role("tab", name="Moves").click()
    before = box(tab, "drawer[2].front")
    set_range(tab, "drawer[2]", 160)
    low, _ = box(tab, "drawer[2].front")
    assert low == [before[0][0], before[0][1] - 160, before[0][2]]
    assert box(tab, "drawer[3].front")[0][1] == before[0][1]
    expect(tab.get_by_role("slider", name="drawer[2]")).to_have_attribute(
        "aria-valuetext", "out 160 mm of 240 mm"
    )
    slider = tab.get_by_role("slider", name="drawer[2]")
    slider.press("ArrowRight")
    assert state(tab)["moved"] == {"drawer[2]": 172}


DOOR = """\
design "Hatch"
stock ply12 { sheet 2440mm by 1220mm, thick 12mm, species birch_ply }
board door of ply12  x 0mm..300mm  y 0mm..12mm  z 0mm..400mm
board post of ply12  x -40mm..-2mm y 0mm..12mm  z 0mm..400mm
swing door about z at x 0mm, y 0mm by -90deg
"""


def test_a_door_swings_about_its_hinge(browser: Browser, tmp_path: Path) -> None:
    inspection, picture = shown_text(DOOR)
    assert [finding.code for finding in inspection.findings] == []
    motion = document(picture)["motions"][0]
    page = page_of(picture, tmp_path / "door.html")
    with opened_page(browser, page.as_uri()) as tab:
        tab.get_by_role("tab", name="Moves").click()
        low, high = box(tab, "door")
        tab.get_by_role("slider", name="door").press("End")
        turned = box(tab, "door")
        assert state(tab)["moved"] == {"door": motion["amount"]}
        # A quarter turn about the z axis: what was wide is deep, what was deep is wide.
        assert turned[1][0] - turned[0][0] == pytest.approx(high[1] - low[1])
        assert turned[1][1] - turned[0][1] == pytest.approx(high[0] - low[0])


def test_a_drawer_stops_at_what_is_in_its_way_with_a_mark_there(
    browser: Browser, tmp_path: Path
) -> None:
    page = page_of(shown_text(DRAWER)[1], tmp_path / "blocked.html")
    with opened_page(browser, page.as_uri()) as tab:
        tab.get_by_role("tab", name="Moves").click()
        slider = tab.get_by_role("slider", name="drawer")
        set_range(tab, "drawer", 30)
        assert box(tab, "drawer")[0][1] == pytest.approx(-30)
        assert state(tab)["marks"]["labels"] == []
        set_range(tab, "drawer", 85)
        assert box(tab, "drawer")[0][1] == pytest.approx(box(tab, "stop")[1][1], abs=0.01)
        assert float(slider.input_value()) == pytest.approx(50, abs=0.01)
        assert [label["text"] for label in state(tab)["marks"]["labels"]] == ["A102 50 mm"]
        expect(tab.get_by_role("tabpanel")).to_contain_text("out 50 mm of 90 mm, meets stop")
        expect(tab.get_by_role("status")).to_contain_text("drawer meets stop")


# -- findings ------------------------------------------------------------------------------------


def test_wood_that_two_boards_claim_is_shown_as_a_solid(browser: Browser, tmp_path: Path) -> None:
    page = example_page("broken/overlap-without-a-join", tmp_path)
    with opened_page(browser, page.as_uri()) as tab:
        told = state(tab)
        assert told["marks"]["lumps"] == 1
        assert [label["text"] for label in told["marks"]["labels"]] == ["F102"]
        red, green, blue, cover = colour(tab, 6, 0, 20)
        assert cover == 255
        assert red > 2 * max(green, blue)
        tab.get_by_role("button", name="F102").first.click()
        slip = tab.get_by_label("What is picked")
        expect(slip.locator("pre")).to_contain_text("error[F102]: `side` and `front` fill")
        expect(slip).to_contain_text("11520 mm³ within 12 × 12 × 80 mm")
        assert state(tab)["pickedBoards"] == ["side", "front"]
        tab.get_by_role("tab", name="Findings").click()
        expect(tab.get_by_role("treeitem", selected=True)).to_contain_text("fill the same space")


def test_a_fit_too_tight_is_marked_with_its_figure(browser: Browser, tmp_path: Path) -> None:
    page = example_page("broken/tight-at-the-yard", tmp_path)
    with opened_page(browser, page.as_uri()) as tab:
        labels = [label["text"] for label in state(tab)["marks"]["labels"]]
        assert len(labels) == 1
        code, figure = labels[0].split(" ", 1)
        assert code.startswith("F")
        assert figure.endswith("mm")


# -- measuring -----------------------------------------------------------------------------------


def test_measuring_from_corner_to_corner_and_from_face_to_face(tab: Page) -> None:
    tab.get_by_role("button", name="Measure").click()
    click(tab, 0.5, 0, 519.5)
    click(tab, 359.5, 0, 519.5)
    told = state(tab)["measure"]
    assert [spot["kind"] for spot in told["spots"]] == ["corner", "corner"]
    assert told["result"]["distance"] == pytest.approx(360, abs=1e-3)
    expect(tab.get_by_role("group", name="Measure")).to_contain_text("360 mm, corner to corner")
    assert {"text": "360 mm", "kind": "measure"} in state(tab)["marks"]["labels"]

    tab.keyboard.press("2")
    click(tab, 180, 0, 470)
    tab.get_by_role("tab", name="Moves").click()
    assert [spot["kind"] for spot in state(tab)["measure"]["spots"]] == ["face"]
    assert state(tab)["picked"] is None, "a click measures and does not pick"


def test_measuring_square_to_faces(tab: Page) -> None:
    """Front faces of two drawers, one 100 mm out: square to them it is 100 mm, wherever picked."""
    tab.get_by_role("tab", name="Moves").click()
    set_range(tab, "drawer[2]", 100)
    tab.get_by_role("button", name="Measure").click()
    click(tab, 100, 0, 470)
    click(tab, 200, -100, 200)
    told = state(tab)["measure"]
    assert [spot["kind"] for spot in told["spots"]] == ["face", "face"]
    assert told["result"]["distance"] == pytest.approx(100, abs=1e-3)
    assert told["result"]["square"]


def test_measuring_with_the_keyboard_alone(tab: Page) -> None:
    tab.locator("canvas.picture").focus()
    for key in ("n", "m", ".", "Enter", ".", "Enter"):
        tab.keyboard.press(key)
    told = state(tab)["measure"]
    assert [spot["board"] for spot in told["spots"]] == ["left", "left"]
    a, b = (spot["at"] for spot in told["spots"])
    straight = sum((x - y) ** 2 for x, y in zip(a, b, strict=True)) ** 0.5
    assert told["result"]["distance"] == pytest.approx(straight)
    assert straight > 0


def test_picks_in_the_opened_piece_find_the_part_where_it_stands(tab: Page) -> None:
    tab.get_by_role("button", name="Open up").click()
    low, high = box(tab, "top")
    middle = [(a + b) / 2 for a, b in zip(low, high, strict=True)]
    assert met(tab, middle[0] + 60, middle[1], high[2]) == "top"
