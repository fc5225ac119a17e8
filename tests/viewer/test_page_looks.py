"""Is the picture one to look at? Found by looking at every example: how the piece fills its place,
what stands over it, what is outlined, lit and drawn apart."""

from collections.abc import Sequence
from itertools import product
from pathlib import Path
from typing import Any

import pytest
from dryfit.lang.catalogue import Drawing, Entry, page
from paged import box, colour, example_page, opened_page, pixel, set_range, settle, state
from playwright.sync_api import Browser, Page, expect

WIDE = {"width": 1440, "height": 900}
NARROW = {"width": 390, "height": 844}

BLANK = '<svg xmlns="http://www.w3.org/2000/svg" width="{0}" height="90" viewBox="0 0 {0} 90"/>'

Span = tuple[float, float]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("pages")


def address(name: str, folder: Path) -> str:
    made = folder / f"{name}.html"
    return (made if made.exists() else example_page(name, folder)).as_uri()


def spans(tab: Page, boards: Sequence[str]) -> tuple[Span, Span]:
    """From where to where on the window the boxes of boards are drawn, across and down."""
    settle(tab)
    ends = [box(tab, board) for board in boards]
    corners = [corner for low, high in ends for corner in product(*zip(low, high, strict=True))]
    across, down = zip(*(pixel(tab, *corner) for corner in corners), strict=True)
    return (min(across), max(across)), (min(down), max(down))


def place(tab: Page, of: str) -> dict[str, float]:
    found: Any = tab.locator(of).bounding_box()
    return dict(found)


# -- how it fills its place ----------------------------------------------------------------------


@pytest.mark.parametrize("size", [WIDE, NARROW], ids=["wide", "narrow"])
def test_the_piece_fills_what_its_place_leaves(
    browser: Browser, folder: Path, size: dict[str, Any]
) -> None:
    """A crate is wider than its place is high: nearly from side to side, in the middle."""
    with opened_page(browser, address("tool-crate", folder), viewport=size) as tab:
        across, down = spans(tab, state(tab)["visible"])
        of = place(tab, ".picture")
        left, right = across[0] - of["x"], of["x"] + of["width"] - across[1]
        above, below = down[0] - of["y"], of["y"] + of["height"] - down[1]
        assert across[1] - across[0] > 0.86 * of["width"]
        assert left == pytest.approx(right, abs=2)
        assert above == pytest.approx(below, abs=2)
        assert above > 0


def test_a_piece_whose_boards_stand_aslant_fills_it_too(browser: Browser, folder: Path) -> None:
    """Of a hexagon: its own corners count, not those of boxes round its slanting walls."""
    with opened_page(browser, address("hexagon-planter", folder), viewport=WIDE) as tab:
        settle(tab)
        ring = [(240.0, 0.0), (120.0, 207.846), (-120.0, 207.846)]
        corners = [(x * s, y * s, z) for x, y in ring for s in (1, -1) for z in (0.0, 200.0)]
        across = [pixel(tab, *corner)[0] for corner in corners]
        assert max(across) - min(across) > 0.86 * place(tab, ".picture")["width"]


def test_what_was_in_the_picture_stays_in_it_when_the_window_changes(
    browser: Browser, folder: Path
) -> None:
    with opened_page(browser, address("tool-crate", folder), viewport=WIDE) as tab:
        before = spans(tab, state(tab)["visible"])
        tab.set_viewport_size({"width": 800, "height": 900})
        of = place(tab, ".picture")
        across, _ = spans(tab, state(tab)["visible"])
        assert of["x"] < across[0] < across[1] < of["x"] + of["width"]
        tab.set_viewport_size({"width": WIDE["width"], "height": WIDE["height"]})
        after = spans(tab, state(tab)["visible"])
        assert after[0] == pytest.approx(before[0], abs=1)
        assert after[1] == pytest.approx(before[1], abs=1)


def test_on_a_narrow_page_the_slip_leaves_the_piece_in_sight(
    browser: Browser, folder: Path
) -> None:
    with opened_page(browser, address("tool-crate", folder), viewport=NARROW) as tab:
        tab.keyboard.press("n")
        expect(tab.locator(".slip")).to_be_visible()
        _, down = spans(tab, state(tab)["visible"])
        assert down[0] > place(tab, ".picture")["y"]
        assert down[1] < place(tab, ".slip")["y"]


def test_the_tool_at_the_top_stands_over_nothing_of_the_piece(
    browser: Browser, folder: Path
) -> None:
    """A door is as high as its place."""
    with opened_page(browser, address("shed-door", folder), viewport=WIDE) as tab:
        tab.get_by_role("button", name="Look inside").click()
        _, down = spans(tab, state(tab)["visible"])
        tool = place(tab, ".tool[aria-label='Look inside']")
        assert down[0] > tool["y"] + tool["height"]


def test_what_moves_out_stays_in_the_picture(browser: Browser, folder: Path) -> None:
    with opened_page(browser, address("seed-cabinet", folder), viewport=WIDE) as tab:
        before = state(tab)["camera"]["distance"]
        tab.get_by_role("tab", name="Moves").click()
        set_range(tab, "drawer[1]", 240)
        across, down = spans(tab, [f"drawer[1].{part}" for part in ("front", "side_l", "side_r")])
        of = place(tab, ".picture")
        assert of["x"] < across[0] < across[1] < of["x"] + of["width"]
        assert of["y"] < down[0] < down[1] < of["y"] + of["height"]
        set_range(tab, "drawer[1]", 0)
        assert state(tab)["camera"]["distance"] == pytest.approx(before, rel=1e-6)


# -- cut open, picked, drawn apart ---------------------------------------------------------------


def test_a_section_along_the_faces_of_boards_shows_the_boards_behind(
    browser: Browser, folder: Path
) -> None:
    """In the middle of the door its ledges end and its planks begin."""
    with opened_page(browser, address("shed-door", folder)) as tab:
        tab.get_by_role("button", name="Look inside").click()
        assert state(tab)["inside"]["cut"] == [f"plank[{i}]" for i in range(1, 7)]


def test_what_a_section_takes_away_leaves_no_shadow(browser: Browser, folder: Path) -> None:
    """On the ground, where the crate's bottom was before it was cut."""
    with opened_page(browser, address("tool-crate", folder)) as tab:
        tab.get_by_role("button", name="Look inside").click()
        settle(tab)
        assert colour(tab, 244, 72, 0)[3] == 0


def test_parts_drawn_apart_throw_no_shadows_on_each_other(browser: Browser, folder: Path) -> None:
    """The end of a tool shelf's bottom looks the same with the side above it as without."""
    spots = [(x, y) for x in (60.0, 120.0, 180.0) for y in (40.0, 100.0, 160.0)]
    with opened_page(browser, address("tool-shelf", folder)) as tab:
        tab.get_by_role("button", name="Open up").click()
        settle(tab)
        low, high = box(tab, "bottom")
        points = [(low[0] + x, low[1] + y, high[2]) for x, y in spots]
        before = [colour(tab, *point) for point in points]
        for other in ("shelf", "side_l", "rail"):
            tab.get_by_role("treeitem", name=other, exact=False).first.click()
            tab.keyboard.press("h")
            tab.keyboard.press("Escape")
        settle(tab)
        assert [colour(tab, *point) for point in points] == before


def test_what_is_picked_is_outlined_without_a_break(browser: Browser, folder: Path) -> None:
    """Along the front edge of a stile, next to the wood it is joined to and to the ground."""
    with opened_page(browser, address("cold-frame-light", folder), viewport=WIDE) as tab:
        tab.get_by_role("treeitem", name="stile_r").click()
        settle(tab)
        low, high = box(tab, "stile_r")
        edge = [pixel(tab, high[0], low[1], low[2] + share * 8) for share in range(5, 95)]
        seen = tab.evaluate("(at) => dryfit.colours(at)", [list(at) for at in edge])
        assert all(red < 30 and green > 90 for red, green, _, _ in seen), (
            "no thin edge shows through"
        )


def test_what_is_picked_shows_where_wood_hides_it(browser: Browser, folder: Path) -> None:
    """Nothing of the left side of a box with blind pins is in sight; its edges show in dashes."""
    with opened_page(browser, address("label-box", folder), viewport=WIDE) as tab:
        settle(tab)
        low, high = box(tab, "left")
        edge = [
            (high[0], low[1], low[2] + share * (high[2] - low[2]) / 200) for share in range(200)
        ]
        at = [list(pixel(tab, *point)) for point in edge]
        before = tab.evaluate("(at) => dryfit.colours(at)", at)
        tab.get_by_role("treeitem", name="left").click()
        settle(tab)
        seen = tab.evaluate("(at) => dryfit.colours(at)", at)
        dashes = sum(red < 60 < green for red, green, _, _ in seen)
        assert not any(red < 60 < green for red, green, _, _ in before)
        assert 0.2 * len(seen) < dashes < 0.8 * len(seen)


def test_an_assembly_drawn_apart_stands_clear_of_the_rest(browser: Browser, folder: Path) -> None:
    """A lid above its box, by more than its own boards stand apart."""
    with opened_page(browser, address("label-box", folder)) as tab:
        tab.get_by_role("button", name="Open up").click()
        highest = max(box(tab, name)[1][2] for name in ("front", "back", "left", "right"))
        lowest = min(box(tab, name)[0][2] for name in ("lid_f", "lid_b", "lid_l", "lid_r"))
        assert lowest - highest > 30


def test_wood_in_shade_stays_warm_and_light(browser: Browser, folder: Path) -> None:
    """The side that looks away from the light: ash, the palest wood there is, is no grey."""
    with opened_page(browser, address("seed-drawer", folder)) as tab:
        settle(tab)
        side = [(330.0, 60.0 + 20 * i, 20.0 + 8 * k) for i in range(9) for k in range(8)]
        seen = [colour(tab, *point) for point in side]
        red, _, blue = (sum(each[k] for each in seen) / len(seen) for k in range(3))
        assert red > 180
        assert red - blue > 45


# -- words ---------------------------------------------------------------------------------------


def test_a_slip_says_a_wood_once_and_marks_names_by_their_type(
    browser: Browser, folder: Path
) -> None:
    with opened_page(browser, address("hive-box", folder)) as tab:
        tab.get_by_role("treeitem", name="side_l").click()
        facts = tab.locator(".slip dd").all_inner_texts()
        assert "pine" in facts
    with opened_page(browser, address("tool-crate", folder)) as tab:
        tab.get_by_role("treeitem", name="front").click()
        slip = tab.locator(".slip")
        expect(slip).to_contain_text("cut a recess with hollow chisel at 6 places")
        expect(slip.locator(".block code")).to_have_text("hollow chisel")


def test_joints_are_called_by_the_trades_words(browser: Browser, folder: Path) -> None:
    with opened_page(browser, address("cold-frame-light", folder)) as tab:
        tab.get_by_role("treeitem", name="stile_r").click()
        tab.get_by_role("button", name="pegged tenon with rail_t").click()
        expect(tab.locator(".slip dd").first).to_have_text("pegged tenon")
        tab.get_by_role("tab", name="Joints").click()
        tab.get_by_label("Filter").fill("loose tenon")
        rows = tab.get_by_role("treeitem")
        expect(rows).to_have_count(2)
        expect(rows.first).to_contain_text("loose tenon")


# -- the catalogue of joints ---------------------------------------------------------------------


def test_a_joint_is_drawn_at_one_scale_on_a_narrow_page(browser: Browser, tmp_path: Path) -> None:
    """Closed and drawn apart: neither is made smaller for standing beside the other."""
    widths = (180, 230)
    drawings = tuple(
        Drawing(ending=f"{width}", shows=f"{width} wide", width=width, text=BLANK.format(width))
        for width in widths
    )
    entry = Entry(name="lap", family="lap", title="Lap", words="", program="", drawings=drawings)
    for drawing in drawings:
        (tmp_path / f"lap-{drawing.ending}.svg").write_text(drawing.text, "utf-8")
    (tmp_path / "index.html").write_text(page([entry]), "utf-8")
    context = browser.new_context(viewport=NARROW)
    tab = context.new_page()
    tab.goto((tmp_path / "index.html").as_uri())
    shown = tab.locator("img").evaluate_all("all => all.map((each) => each.clientWidth)")
    context.close()
    assert shown == list(widths)
