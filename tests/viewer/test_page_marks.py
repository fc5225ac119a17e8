"""Marks in the picture, in a real browser: from end to end, along the way that was barred, as large
on the screen from near as from far, with words that hide no other words."""

from collections.abc import Iterator
from contextlib import contextmanager
from itertools import combinations
from math import hypot
from pathlib import Path
from typing import Any

import pytest
from dryfit.viewer.scene import Picture
from paged import (
    Colour,
    box,
    colour,
    example_page,
    opened_page,
    page_of,
    pixel,
    set_range,
    settle,
    state,
)
from playwright.sync_api import Browser, Page
from scenes import shown_text
from test_scene_marks import APART, BARRED_LID, DRAWER, HOOK, STOOLS

Pixel = tuple[float, float]

NEAR = 2
"""Pixels: a line is about as wide."""


@contextmanager
def page(browser: Browser, text: str, folder: Path, **asked: Any) -> Iterator[Page]:
    picture: Picture = shown_text(text)[1]
    with opened_page(browser, page_of(picture, folder / "piece.html").as_uri(), **asked) as tab:
        yield tab


def drawn(tab: Page) -> list[dict[str, Any]]:
    return list(state(tab)["marks"]["drawn"])


def words(tab: Page) -> list[str]:
    return [label["text"] for label in state(tab)["marks"]["labels"]]


def is_fault(seen: Colour, theme: str = "light") -> bool:
    """Far redder than wood: the tint of a fault, a little mixed with what is round it."""
    red, green, blue, cover = seen
    most = 2.0 if theme == "light" else 1.45
    return cover == 255 and red > most * green and abs(green - blue) < 60


def is_marked(tab: Page, at: Pixel, theme: str = "light") -> bool:
    """Whether a line of a mark goes through a pixel of the window, or close by."""
    x, y = at
    steps = range(-NEAR, NEAR + 1)
    around = [[x + dx, y + dy] for dx in steps for dy in steps]
    seen = tab.evaluate("(points) => dryfit.colours(points)", around)
    return any(is_fault(tuple(each), theme) for each in seen)


def between(tab: Page, a: list[float], b: list[float], share: float) -> Pixel:
    return pixel(tab, *(p + (q - p) * share for p, q in zip(a, b, strict=True)))


def towards(start: Pixel, end: Pixel, far: float) -> Pixel:
    """So many pixels from the one towards the other, or beyond."""
    long = hypot(end[0] - start[0], end[1] - start[1])
    return (
        start[0] + (end[0] - start[0]) / long * far,
        start[1] + (end[1] - start[1]) / long * far,
    )


def apart(tab: Page, a: list[float], b: list[float]) -> float:
    one, other = pixel(tab, *a), pixel(tab, *b)
    return hypot(one[0] - other[0], one[1] - other[1])


# -- measures ------------------------------------------------------------------------------------


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_a_clearance_is_drawn_from_board_to_board_with_its_figure(
    browser: Browser, tmp_path: Path, theme: str
) -> None:
    with page(browser, APART, tmp_path, color_scheme=theme) as tab:
        (mark,) = drawn(tab)
        assert words(tab) == ["T101 50 mm"]
        for share in (0, 0.2, 0.5, 0.8, 1):
            assert is_marked(tab, between(tab, mark["at"], mark["to"], share), theme)
        assert not is_marked(tab, between(tab, mark["at"], mark["to"], 1.4), theme)
        bar = towards(pixel(tab, *mark["at"]), pixel(tab, *mark["to"]), 7)
        x, y = pixel(tab, *mark["at"])
        square = (x - (bar[1] - y), y + (bar[0] - x))
        assert is_marked(tab, square, theme), "a bar across its end"


def test_a_gap_too_narrow_to_see_has_arrows_of_one_size_from_near_and_far(
    browser: Browser, tmp_path: Path
) -> None:
    saved = example_page("broken/tight-at-the-yard", tmp_path)
    with opened_page(browser, saved.as_uri()) as tab:
        (mark,) = drawn(tab)
        assert words(tab) == ["F201 −0.1 mm"]
        for _ in range(2):
            assert apart(tab, mark["at"], mark["to"]) < 3
            at = pixel(tab, *mark["at"])
            up, down = (pixel(tab, *mark["at"][:2], mark["at"][2] + by) for by in (50, -50))
            for way in (up, down):
                assert is_marked(tab, towards(at, way, 17)), "in wood, and seen all the same"
                assert not is_marked(tab, towards(at, way, 32))
            tab.keyboard.press("-")
            tab.get_by_role("button", name="Parallel").click()
            tab.wait_for_function("() => !dryfit.state.camera.moving")


def test_figures_are_told_in_the_units_of_the_page(browser: Browser, tmp_path: Path) -> None:
    with page(browser, APART, tmp_path) as tab:
        tab.get_by_role("button", name="mm: lengths").click()
        assert words(tab) == ["T101 1 31/32 in"]
    saved = example_page("broken/tight-at-the-yard", tmp_path)
    with opened_page(browser, saved.as_uri()) as tab:
        tab.get_by_role("button", name="mm: lengths").click()
        assert words(tab) == ["F201 −0.004 in"]


def test_a_picked_finding_shows_its_boards_through_the_wood_and_enough_round_it(
    browser: Browser, tmp_path: Path
) -> None:
    """The end of a shelf in its dado: dashed where the side hides it, 60 mm of both in sight."""
    saved = example_page("broken/tight-at-the-yard", tmp_path)
    with opened_page(browser, saved.as_uri()) as tab:
        settle(tab)
        hidden = [(8.0, 30.0 + share, 212.0) for share in range(140)]
        assert not any(is_picked(tab, *point) for point in hidden)
        tab.get_by_role("tab", name="Findings").click()
        tab.get_by_role("tabpanel").get_by_role("treeitem").first.click()
        tab.wait_for_function("() => !dryfit.state.camera.moving")
        settle(tab)
        (mark,) = drawn(tab)
        x, y, z = mark["at"]
        for by in (-60, 60):
            assert tab.evaluate("(at) => dryfit.met(...dryfit.pixel(at))", [x, y, z + by])
        dashes = sum(is_picked(tab, *point) for point in hidden)
        assert 0.2 * len(hidden) < dashes < 0.8 * len(hidden)


def is_picked(tab: Page, *at: float) -> bool:
    red, green, _, _ = colour(tab, *at)
    return red < 60 < green


# -- contacts ------------------------------------------------------------------------------------


def test_the_way_to_a_first_contact_is_drawn_and_stays_where_it_was_moved_to(
    browser: Browser, tmp_path: Path
) -> None:
    with page(browser, DRAWER, tmp_path) as tab:
        (mark,) = drawn(tab)
        home, met = mark["path"]
        assert met == mark["at"]
        assert words(tab) == ["A102 50 mm"]
        for share in (0.2, 0.5, 0.8, 1):
            assert is_marked(tab, between(tab, home, met, share))
        assert not is_marked(tab, between(tab, home, met, 1.5)), "it ends where they meet"
        tab.get_by_role("tab", name="Moves").click()
        set_range(tab, "drawer", 30)
        assert drawn(tab) == []
        assert not is_marked(tab, between(tab, home, met, 0.5))
        set_range(tab, "drawer", 90)
        assert [each["path"] for each in drawn(tab)] == [mark["path"]]
        assert box(tab, "drawer")[0][1] == pytest.approx(met[1], abs=0.01)
        assert is_marked(tab, between(tab, home, met, 0.5))


def test_the_way_of_a_swing_is_an_arc(browser: Browser, tmp_path: Path) -> None:
    with page(browser, BARRED_LID.replace("by 90deg", "by -90deg"), tmp_path) as tab:
        tab.keyboard.press("3")
        for _ in range(4):
            tab.keyboard.press("+")
        (mark,) = drawn(tab)
        path = mark["path"]
        middle = path[len(path) // 2]
        assert is_marked(tab, pixel(tab, *middle))
        assert is_marked(tab, pixel(tab, *path[-1]))
        chord = between(tab, path[0], path[-1], 0.5)
        away = hypot(*(p - q for p, q in zip(chord, pixel(tab, *middle), strict=True)))
        assert away > 8
        assert not is_marked(tab, chord)


def test_what_is_barred_at_once_still_shows_which_way(browser: Browser, tmp_path: Path) -> None:
    """A hook that meets the wall after a millimetre, every way: an arrow up to each contact."""
    with page(browser, HOOK, tmp_path) as tab:
        tab.keyboard.press("1")
        for mark in drawn(tab):
            at = pixel(tab, *mark["at"])
            back = [p - 5 * c for p, c in zip(mark["at"], mark["along"], strict=True)]
            assert apart(tab, mark["at"], mark["path"][0]) < 24
            assert is_marked(tab, towards(at, pixel(tab, *back), 18))


# -- words ---------------------------------------------------------------------------------------


def boxes(tab: Page) -> list[dict[str, float]]:
    settle(tab)  # a figure finds its place with the frame that its mark is drawn in
    found = [label.bounding_box() for label in tab.locator(".label:visible").all()]
    return [dict(each) for each in found if each is not None]


def overlap(a: dict[str, float], b: dict[str, float]) -> bool:
    return (
        a["x"] < b["x"] + b["width"]
        and b["x"] < a["x"] + a["width"]
        and a["y"] < b["y"] + b["height"]
        and b["y"] < a["y"] + a["height"]
    )


@pytest.mark.parametrize("turned", range(3))
def test_no_figure_hides_another(browser: Browser, tmp_path: Path, turned: int) -> None:
    with page(browser, HOOK, tmp_path) as tab:
        tab.get_by_role("button", name="A101").first.click()
        assert sorted(words(tab)) == ["1 mm"] * 4 + ["5.85 mm", "A101 5.85 mm"]
        tab.locator("canvas.picture").focus()
        for _ in range(turned * 5):
            tab.keyboard.press("ArrowLeft")
        frame = tab.locator("canvas.picture").bounding_box()
        assert frame is not None
        labels = boxes(tab)
        assert len(labels) == 6
        assert not [pair for pair in combinations(labels, 2) if overlap(*pair)]
        for label in labels:
            assert frame["x"] <= label["x"]
            assert label["x"] + label["width"] <= frame["x"] + frame["width"]


def test_two_findings_at_one_place_are_both_told(browser: Browser, tmp_path: Path) -> None:
    with page(browser, STOOLS, tmp_path) as tab:
        labels = boxes(tab)
        assert len(labels) == 3
        assert not [pair for pair in combinations(labels, 2) if overlap(*pair)]


PAIRS = 40

MANY = (
    """\
design "Rack"
stock ply12 { sheet 2440mm by 1220mm, thick 12mm, species birch_ply }
"""
    + "".join(
        f"board a{i} of ply12  x {40 * i}mm..+12mm       y 0mm..100mm  z 0mm..100mm\n"
        f"board b{i} of ply12  x {40 * i + 22}mm..+12mm  y 0mm..100mm  z 0mm..100mm\n"
        for i in range(PAIRS)
    )
    + 'test "room" {\n'
    + "".join(f"  expect clearance(a{i}, b{i}) >= 20mm\n" for i in range(PAIRS))
    + "}\n"
)


def test_where_there_is_no_room_a_figure_goes_and_its_mark_stays(
    browser: Browser, tmp_path: Path
) -> None:
    with page(browser, MANY, tmp_path) as tab:
        assert len(drawn(tab)) == len(words(tab)) == PAIRS
        labels = boxes(tab)
        assert 10 < len(labels) < PAIRS
        assert not [pair for pair in combinations(labels, 2) if overlap(*pair)]
        for mark in drawn(tab):
            assert is_marked(tab, between(tab, mark["at"], mark["to"], 1))
        tab.get_by_role("tab", name="Findings").click()
        tab.get_by_role("treeitem", name="a27, b27").click()
        assert len(boxes(tab)) == 1


def test_a_finger_meets_a_figure_that_is_low(browser: Browser, tmp_path: Path) -> None:
    window = {"width": 360, "height": 640}
    with page(browser, DRAWER, tmp_path, viewport=window, has_touch=True) as tab:
        (label,) = boxes(tab)
        assert label["height"] < 40
        tab.touchscreen.tap(label["x"] + label["width"] / 2, label["y"] - 7)
        assert state(tab)["picked"] == {"kind": "finding", "index": 0}


# -- a section -----------------------------------------------------------------------------------


def test_a_mark_goes_with_the_wood_a_section_takes_and_picked_is_cut_through(
    browser: Browser, tmp_path: Path
) -> None:
    with page(browser, DRAWER, tmp_path) as tab:
        (mark,) = drawn(tab)
        tab.get_by_role("button", name="Look inside").click()
        set_range(tab, "Where it is cut", 0.9)
        assert drawn(tab) == []
        assert words(tab) == []
        set_range(tab, "Where it is cut", 0)
        assert drawn(tab) == [mark]
        tab.get_by_role("button", name="Side to side").click()
        set_range(tab, "Where it is cut", 0.2)
        assert drawn(tab) == []
        tab.get_by_role("tab", name="Findings").click()
        tab.get_by_role("treeitem", name="A102").click()
        assert drawn(tab) == [mark]
        assert state(tab)["inside"]["share"] == pytest.approx(mark["at"][0] / 100, abs=0.01)


def test_what_a_section_leaves_of_a_finding_still_bears_its_code(
    browser: Browser, tmp_path: Path
) -> None:
    """Cut above the hook, the ways up and sideways are gone with the wood; the way down is left."""
    with page(browser, HOOK, tmp_path) as tab:
        tab.get_by_role("button", name="Look inside").click()
        tab.get_by_role("button", name="Up and down").click()
        set_range(tab, "Where it is cut", 93.8 / 200)
        left = [mark["along"] for mark in drawn(tab)]
        assert left == [[0, 0, -1]]
        assert words(tab) == ["A101 1 mm"]


# -- other sizes ---------------------------------------------------------------------------------


def test_marks_are_larger_where_the_words_are(browser: Browser, tmp_path: Path) -> None:
    saved = example_page("broken/tight-at-the-yard", tmp_path)
    with opened_page(browser, saved.as_uri(), viewport={"width": 2620, "height": 600}) as tab:
        (mark,) = drawn(tab)
        at = pixel(tab, *mark["at"])
        up = pixel(tab, *mark["at"][:2], mark["at"][2] + 50)
        assert is_marked(tab, towards(at, up, 30))
        assert not is_marked(tab, towards(at, up, 42))


def test_on_paper_marks_are_drawn_for_the_papers_size(browser: Browser, tmp_path: Path) -> None:
    """Two arrows 24 units long and 2 wide, their heads and a bar: a unit is nearly two pixels."""
    saved = example_page("broken/tight-at-the-yard", tmp_path)
    with opened_page(browser, saved.as_uri()) as tab:
        tab.evaluate("window.dispatchEvent(new Event('beforeprint'))")
        red = tab.evaluate(
            """() => {
              const paper = document.querySelector(".print canvas");
              const { data } = paper.getContext("2d").getImageData(0, 0, paper.width, paper.height);
              let found = 0;
              for (let i = 0; i < data.length; i += 4) {
                if (data[i] > 120 && data[i] > 2 * Math.max(data[i + 1], data[i + 2])) found++;
              }
              return found;
            }"""
        )
        assert 400 < red < 1500
