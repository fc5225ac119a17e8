"""The picture: seen from anywhere, its parts and joints picked, hidden, made faint, cut open."""

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from paged import (
    box,
    click,
    colour,
    example_page,
    is_wood,
    met,
    opened_page,
    pixel,
    set_range,
    settle,
    state,
)
from playwright.sync_api import Browser, Page, expect

FRONT = "drawer[4].front"
ON_FRONT = (180.0, 0.0, 460.0)
"""In the middle of the top drawer's front."""


@pytest.fixture(scope="module")
def saved(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return example_page("seed-cabinet", tmp_path_factory.mktemp("page"))


@pytest.fixture
def tab(browser: Browser, saved: Path) -> Iterator[Page]:
    with opened_page(browser, saved.as_uri()) as made:
        yield made


def test_the_first_picture_is_of_the_piece(tab: Page) -> None:
    told = state(tab)
    assert told["counts"]["boards"] == 25
    assert told["frames"] == 1
    assert told["visible"][0] == "left"
    assert box(tab, "left") == ([0, 0, 0], [12, 240, 520])
    assert met(tab, *ON_FRONT) == FRONT
    assert is_wood(colour(tab, *ON_FRONT))
    assert colour(tab, -120, 0, 500)[3] == 0
    assert tab.title() == "Seed cabinet – Dryfit"


def test_edges_are_drawn_where_boards_have_them_and_nowhere_else(tab: Page) -> None:
    """From the front, across the top edge of a drawer: a dark line at it, none beside it, though
    the flat face is made of many triangles."""
    tab.keyboard.press("2")
    low, high = box(tab, FRONT)
    x, edge = pixel(tab, 180, 0, high[2])
    rows = [[x, edge + by] for by in range(-2, 3)]
    drawn = min(sum(seen[:3]) for seen in tab.evaluate("(at) => dryfit.colours(at)", rows))
    _, foot = pixel(tab, 180, 0, low[2])
    inside = [[x, edge + (foot - edge) * share / 20] for share in range(2, 19)]
    plain = [sum(seen[:3]) for seen in tab.evaluate("(at) => dryfit.colours(at)", inside)]
    assert drawn < 0.6 * min(plain)
    assert min(plain) > 0.8 * max(plain)


def test_grain_runs_along_the_board(tab: Page) -> None:
    """Along the grain tones change slowly, across it fast, on a drawer's front."""
    tab.keyboard.press("2")

    def rough(points: list[tuple[float, float, float]]) -> float:
        at = [list(pixel(tab, *point)) for point in points]
        tones = [sum(seen[:3]) for seen in tab.evaluate("(at) => dryfit.colours(at)", at)]
        return sum(abs(a - b) for a, b in pairwise(tones))

    along = rough([(140.0 + 2 * i, 0, 460) for i in range(40)])
    across = rough([(180.0, 0, 420 + 2.0 * i) for i in range(40)])
    assert across > 1.5 * along


@pytest.mark.parametrize(
    ("view", "yaw", "pitch"),
    [("front", 0, 0), ("right", 90, 0), ("back", 180, 0), ("left", -90, 0), ("top", 0, 90)],
)
def test_standard_views(tab: Page, view: str, yaw: float, pitch: float) -> None:
    tab.get_by_label("Seen from").select_option(view)
    camera = state(tab)["camera"]
    assert camera["yaw"] * 57.29578 == pytest.approx(yaw, abs=1e-3)
    assert camera["pitch"] * 57.29578 == pytest.approx(pitch, abs=1e-3)
    assert met(tab, 180, 120, 260) is not None


def test_drag_turns_shift_drag_pushes_and_the_wheel_comes_nearer(tab: Page) -> None:
    at = pixel(tab, *ON_FRONT)
    before = state(tab)["camera"]
    tab.mouse.move(*at)
    tab.mouse.down()
    tab.mouse.move(at[0] + 60, at[1] + 20, steps=4)
    tab.mouse.up()
    turned = state(tab)["camera"]
    assert turned["yaw"] < before["yaw"]
    assert turned["pitch"] > before["pitch"]
    assert turned["target"] == before["target"]
    assert state(tab)["picked"] is None, "a drag is no click"

    tab.keyboard.down("Shift")
    tab.mouse.down()
    tab.mouse.move(at[0], at[1], steps=4)
    tab.mouse.up()
    tab.keyboard.up("Shift")
    pushed = state(tab)["camera"]
    assert pushed["yaw"] == turned["yaw"]
    assert pushed["target"] != turned["target"]

    under = pixel(tab, *ON_FRONT)
    tab.mouse.move(*under)
    tab.mouse.wheel(0, -400)
    tab.wait_for_function(f"() => dryfit.state.camera.distance < {pushed['distance'] * 0.9}")
    after = pixel(tab, *ON_FRONT)
    assert after == pytest.approx(under, abs=12), "what is under the pointer stays there"


def test_two_fingers_come_nearer(browser: Browser, saved: Path) -> None:
    with opened_page(browser, saved.as_uri(), has_touch=True) as tab:
        before = state(tab)["camera"]
        x, y = pixel(tab, *ON_FRONT)
        wire = tab.context.new_cdp_session(tab)

        def touch(kind: str, *apart: float) -> None:
            points = [{"x": x + by, "y": y, "id": i} for i, by in enumerate(apart)]
            wire.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

        touch("touchStart", -30, 30)
        for wide in (40, 60, 80):
            touch("touchMove", -wide, wide)
        touch("touchEnd")
        tab.wait_for_function(f"() => dryfit.state.camera.distance < {before['distance'] * 0.6}")
        assert state(tab)["camera"]["yaw"] == before["yaw"]
        tab.touchscreen.tap(*pixel(tab, *ON_FRONT))
        assert state(tab)["pickedBoards"] == [FRONT]


def test_perspective_and_parallel(tab: Page) -> None:
    """In parallel, the edges of a square front view come out equally long near and far."""
    tab.keyboard.press("2")

    def length(y: float) -> float:
        return pixel(tab, 360, y, 0)[0] - pixel(tab, 0, y, 0)[0]

    assert length(0) > 1.05 * length(240)
    tab.get_by_role("button", name="Parallel").click()
    assert length(0) == pytest.approx(length(240))


def test_a_click_picks_the_part_where_it_is_and_the_slip_tells_of_it(tab: Page) -> None:
    plain = colour(tab, *ON_FRONT)
    beside = colour(tab, 180, 0, 340)
    click(tab, *ON_FRONT)
    assert state(tab)["pickedBoards"] == [FRONT]
    tab.mouse.move(5, 5)
    picked = colour(tab, *ON_FRONT)
    assert sum(picked[:3]) < 0.9 * sum(plain[:3])
    assert picked[1] / picked[0] > 1.04 * plain[1] / plain[0], "towards the selected colour"
    assert colour(tab, 180, 0, 340) == beside, "and nothing else"

    row = tab.get_by_role("treeitem", selected=True)
    expect(row).to_contain_text("front")
    slip = tab.get_by_label("What is picked")
    for fact in (FRONT, "334 × 121 × 12 mm", "x, side to side", "ply12, birch ply"):
        expect(slip).to_contain_text(fact)
    expect(slip).to_contain_text("seed-cabinet.dry:39")
    expect(slip).to_contain_text("6 × right through from +y, bit b6")
    expect(slip.get_by_role("button", name="box with drawer[4].side_l")).to_be_visible()
    click(tab, -120, 0, 500)
    assert state(tab)["picked"] is None


def test_shift_picks_several_and_a_group_picks_all_of_it(tab: Page) -> None:
    click(tab, *ON_FRONT)
    tab.keyboard.down("Shift")
    click(tab, 180, 0, 340)
    tab.keyboard.up("Shift")
    assert state(tab)["pickedBoards"] == [FRONT, "drawer[3].front"]
    tab.get_by_role("treeitem", name="drawer[2]", exact=True).click()
    assert len(state(tab)["pickedBoards"]) == 5


def test_a_second_click_on_a_cut_picks_the_joint(tab: Page) -> None:
    tab.get_by_role("button", name="Open up").click()
    tab.wait_for_function("() => !dryfit.state.camera.moving")
    settle(tab)
    low, high = box(tab, "top")
    # The faces its box joint left at the top's right end, between the pins.
    spots = [(high[0] - 12, low[1] + by, low[2] + 6) for by in range(4, 236, 2)]
    at = [pixel(tab, *spot) for spot in spots]
    found = tab.evaluate("(at) => at.map(([x, y]) => dryfit.met(x, y))", [list(p) for p in at])
    chosen = next(
        i for i, hit in enumerate(found) if hit and hit["board"] == "top" and hit["joint"]
    )
    tab.mouse.click(*at[chosen])
    assert state(tab)["pickedBoards"] == ["top"]
    tab.mouse.click(*at[chosen])
    assert state(tab)["picked"] == {"kind": "joint", "name": found[chosen]["joint"]}


def test_a_joint_is_picked_in_the_ledger_and_the_rest_steps_back(tab: Page) -> None:
    plain = colour(tab, *ON_FRONT)
    tab.get_by_role("tab", name="Joints").click()
    tab.get_by_role("treeitem", name="right – top").click()
    assert state(tab)["pickedBoards"] == ["right", "top"]
    slip = tab.get_by_label("What is picked")
    for fact in ("box", "b6", "0.10 mm", "seed-cabinet.dry:30"):
        expect(slip).to_contain_text(fact)
    assert colour(tab, *ON_FRONT) != plain
    assert met(tab, *ON_FRONT) != FRONT, "what is faint lets a click through"
    assert is_wood(colour(tab, 200, 60, 520))


def test_hide_only_faint_and_show_all(tab: Page) -> None:
    click(tab, *ON_FRONT)
    tab.get_by_role("button", name="Hide").click()
    assert FRONT not in state(tab)["visible"]
    assert met(tab, *ON_FRONT) != FRONT
    expect(tab.get_by_role("treeitem", selected=True)).to_contain_text("hidden")
    tab.get_by_role("button", name="Show", exact=True).click()
    assert met(tab, *ON_FRONT) == FRONT

    tab.get_by_role("button", name="Faint").click()
    assert state(tab)["ghosts"] == [FRONT]
    assert met(tab, *ON_FRONT) != FRONT
    tab.get_by_role("button", name="Only this").click()
    assert state(tab)["visible"] == [FRONT]
    tab.get_by_role("button", name="Show all parts").click()
    told = state(tab)
    assert (len(told["visible"]), told["ghosts"], told["only"]) == (25, [], None)


def test_the_filter_narrows_the_ledger(tab: Page) -> None:
    tab.keyboard.press("/")
    tab.keyboard.type("ply6")
    expect(tab.locator(".row:not(.group)")).to_have_count(5)
    tab.keyboard.type(" nothing")
    expect(tab.locator(".leaf")).to_contain_text("Nothing fits the filter")


def test_go_to_fills_the_picture_with_the_part(tab: Page) -> None:
    click(tab, *ON_FRONT)
    tab.get_by_role("button", name="Go to").click()
    low, high = box(tab, FRONT)
    left, right = pixel(tab, low[0], low[1], high[2])[0], pixel(tab, high[0], low[1], high[2])[0]
    frame = tab.locator("canvas.picture").bounding_box()
    assert frame is not None
    assert right - left > 0.6 * frame["width"]
    assert frame["x"] < left < right < frame["x"] + frame["width"]


# -- looking inside ------------------------------------------------------------------------------


def test_the_section_shows_the_inside_and_closes_what_it_cuts(tab: Page) -> None:
    tab.keyboard.press("2")
    inside = (180.0, 120.0, 470.0)
    on_side = (6.0, 120.0, 300.0)
    tab.get_by_role("button", name="Look inside").click()
    tab.get_by_role("button", name="Front to back").click()
    set_range(tab, "Where it is cut", 0.5)
    cut = state(tab)["inside"]["cut"]
    assert {"left", "right", "drawer[4].side_l", "drawer[4].base"} <= set(cut)
    assert not {"back", FRONT, "drawer[4].rear"} & set(cut)
    assert met(tab, *inside) == "drawer[4].rear"
    assert met(tab, *on_side) == "left"
    assert is_wood(colour(tab, *on_side)), "the cut is closed, and not hollow"
    # Between the drawer's side and the carcase there is 1 mm of play: dark, not filled.
    x, y = pixel(tab, 12.5, 120, 470)
    row = tab.evaluate("(at) => dryfit.colours(at)", [[x + by, y] for by in (-1.5, 0, 1.5)])
    assert min(sum(seen[:3]) for seen in row) < 0.7 * sum(colour(tab, *on_side)[:3])

    tab.get_by_role("button", name="Other side").click()
    tab.keyboard.press("4")
    assert met(tab, *inside) == FRONT
    tab.keyboard.press("x")
    assert state(tab)["inside"]["on"] is False
    assert state(tab)["inside"]["cut"] == []


def test_a_section_of_a_closed_joint_shows_both_boards(tab: Page) -> None:
    """Through the groove that holds the back: the back's edge in the side's wood."""
    tab.keyboard.press("6")
    tab.get_by_role("button", name="Look inside").click()
    tab.get_by_role("button", name="Up and down").click()
    set_range(tab, "Where it is cut", 0.5)
    assert met(tab, 10, 227, 260) == "back"
    assert met(tab, 4, 227, 260) == "left"
    assert is_wood(colour(tab, 10, 227, 260))
    assert is_wood(colour(tab, 4, 227, 260))
