"""Every tool is within reach in a small window: seen at once, or behind the one that says More; by
touch and by keyboard, and never by a scroll that nobody sees."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from paged import example_page, opened_page, state
from playwright.sync_api import Browser, Locator, Page

SIZES = ((360, 640), (640, 360), (760, 1000), (760, 640))
TOOLS = (
    "Ledger",
    "Seen from",
    "Whole",
    "Look inside",
    "Measure",
    "Sizes",
    "Parallel",
    "mm: lengths",
    "Light page",
    "Print",
    "? lists the keys",
)


@pytest.fixture(scope="module")
def saved(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return example_page("hive-box", tmp_path_factory.mktemp("page"))


def named(size: tuple[int, int]) -> str:
    return f"{size[0]}x{size[1]}"


@pytest.fixture(params=SIZES, ids=named)
def tab(browser: Browser, saved: Path, request: pytest.FixtureRequest) -> Iterator[Page]:
    wide, high = request.param
    window = {"width": wide, "height": high}
    with opened_page(browser, saved.as_uri(), viewport=window, has_touch=True) as made:
        yield made


def tool(tab: Page, name: str) -> Locator:
    tools = tab.get_by_role("group", name="Tools")
    if name == "Seen from":
        return tools.get_by_role("combobox", name=name)
    return tools.get_by_role("button", name=name)


def more(tab: Page) -> Locator:
    return tab.get_by_role("button", name="More", exact=True)


def is_within_reach(tab: Page, name: str) -> bool:
    """Whether it is in the window, whole, large enough for a finger, and nothing lies over it."""
    seen = tool(tab, name).evaluate_all(
        """all => all.map(e => {
          const { left, top, right, bottom, width, height } = e.getBoundingClientRect();
          const met = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
          const whole = left >= 0 && top >= 0 && right <= innerWidth && bottom <= innerHeight;
          const fits = e.scrollWidth <= e.clientWidth && height >= 40 && width >= 20;
          return whole && fits && met === e;
        })"""
    )
    return seen == [True]


def test_every_tool_is_seen_at_once_or_behind_one_that_is(tab: Page) -> None:
    at_once = {name for name in TOOLS if is_within_reach(tab, name)}
    assert {"Ledger", "Seen from", "Whole", "Look inside"} <= at_once
    if more(tab).is_visible():
        more(tab).tap()
        assert {name for name in TOOLS if is_within_reach(tab, name)} == set(TOOLS)
    else:
        assert at_once == set(TOOLS)
    assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth")
    rooms = tab.get_by_role("group", name="Tools").evaluate("e => [e.scrollWidth, e.clientWidth]")
    assert rooms[0] <= rooms[1]


def test_a_small_window_folds_tools_away_and_a_larger_one_does_not(tab: Page) -> None:
    size = tab.viewport_size
    assert size is not None
    assert more(tab).is_visible() == (size["height"] < 700)


def test_what_is_tapped_there_acts_and_folds_the_tools_again(tab: Page) -> None:
    folded = more(tab).is_visible()
    if folded:
        more(tab).tap()
    tool(tab, "Measure").tap()
    assert state(tab)["measure"]["on"]
    assert tool(tab, "Sizes").is_visible() != folded
    if folded:
        more(tab).tap()
        tool(tab, "Look inside").tap()
        assert is_within_reach(tab, "Look inside")
        assert not tool(tab, "Sizes").is_visible(), "it would hide where the section is set"
        more(tab).tap()
        assert tool(tab, "Sizes").is_visible()
        tab.touchscreen.tap(30, (tab.viewport_size or {"height": 0})["height"] - 70)
        assert not tool(tab, "Sizes").is_visible(), "a tap elsewhere folds them too"


def test_the_keyboard_comes_to_every_tool(tab: Page) -> None:
    passed = []
    for _ in range(20):
        tab.keyboard.press("Tab")
        focused = tab.evaluate(
            """() => {
              const e = document.activeElement;
              return e.closest(".tools") && (e.ariaLabel || e.textContent);
            }"""
        )
        if focused is None and passed:
            break
        if focused is not None:  # a long title can be walked through, too
            passed.append(focused)
        if focused == "More":
            tab.keyboard.press("Enter")
    found = [name for name in TOOLS if any(each.startswith(name) for each in passed)]
    assert found == list(TOOLS), "each, in the order it is read"


@pytest.mark.parametrize("tab", SIZES[:2], indirect=True, ids=named)
def test_escape_folds_the_tools_and_lets_go_of_nothing_else(tab: Page) -> None:
    tab.keyboard.press("n")
    picked = state(tab)["picked"]
    assert picked is not None
    more(tab).focus()
    tab.keyboard.press("Enter")
    tab.keyboard.press("Tab")
    tab.keyboard.press("Escape")
    assert not tool(tab, "Sizes").is_visible()
    assert state(tab)["picked"] == picked
    assert tab.evaluate("document.activeElement.textContent") == "More"
    tab.keyboard.press("Enter")
    tab.keyboard.press("Tab")
    tab.keyboard.press("Enter")
    assert state(tab)["measure"]["on"]
    assert tab.evaluate("document.activeElement.textContent") == "More", "focus is not lost"
