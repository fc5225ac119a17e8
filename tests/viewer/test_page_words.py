"""The words around the picture: flat parts, units, light and dark, print, keys, narrow and wide;
names that try to be more than names."""

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from dryfit.kernel.design import Design
from dryfit.kernel.plan import CutPlan
from dryfit.lang.inspection import Inspection, Request
from dryfit.lang.render import Pages
from dryfit.viewer.looking import Looking
from handmade import PLY, board_plan
from paged import box, colour, example_page, opened_page, page_of, state
from playwright.sync_api import Browser, Page, expect

PHONE = {"width": 360, "height": 740}
WALL = {"width": 3840, "height": 2160}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("page")


@pytest.fixture(scope="module")
def saved(folder: Path) -> Path:
    return example_page("hive-box", folder)


@pytest.fixture
def tab(browser: Browser, saved: Path) -> Iterator[Page]:
    with opened_page(browser, saved.as_uri()) as made:
        yield made


# -- flat parts, units, light, print -------------------------------------------------------------


def test_a_part_lies_flat_with_the_cuts_of_either_side(tab: Page) -> None:
    tab.get_by_role("treeitem", name="end_f").click()
    tab.get_by_role("button", name="Lay flat").click()
    flat = tab.get_by_role("dialog", name="Flat part")
    expect(flat).to_contain_text("end_f")

    def layers() -> list[str]:
        groups = flat.locator("svg > g:not([display])")
        return [name or "" for name in groups.evaluate_all("gs => gs.map(g => g.dataset.layer)")]

    assert {"CUT_OUTER", "POCKET_Z9.525"} <= set(layers())
    assert not any(name.startswith("FACE_B") for name in layers())
    flat.get_by_role("button", name="Side B").click()
    assert set(layers()) == {"FACE_B_POCKET_Z9.525", "FACE_B_OUTLINE", "FACE_B_LABEL"}
    # As wide and high as the blank: what is drawn fills the view but for a narrow edge.
    shape = flat.locator("svg [data-layer=FACE_B_OUTLINE] path").bounding_box()
    paper = flat.locator("svg").bounding_box()
    assert shape is not None
    assert paper is not None
    assert max(shape["width"] / paper["width"], shape["height"] / paper["height"]) > 0.85
    tab.keyboard.press("Escape")
    expect(flat).to_be_hidden()


@pytest.mark.parametrize(
    ("svg", "left"),
    [
        ('<g id="CUT_OUTER"><path d="M0 0L9 9" onclick="hurt()"/></g>', "path"),
        ('<g id="CUT_OUTER"><path d="M0 0L9 9"/><script>hurt()</script></g>', "path"),
        ('<g id="CUT_OUTER"><path d="M0 0L9 9"/><foreignObject><b/></foreignObject></g>', "path"),
        (
            '<g id="CUT_OUTER"><path d="M0 0L9 9"/><a href="javascript:hurt()"><text/></a></g>',
            "path",
        ),
        ('<g id="CUT_OUTER"><path d="M0 0L9 9" style="fill:url(//x)" fill="url(#x)"/></g>', "path"),
    ],
)
def test_only_shapes_and_words_are_taken_over_from_a_drawing(
    browser: Browser, saved: Path, tmp_path: Path, svg: str, left: str
) -> None:
    text = saved.read_text("utf-8")
    whole = f'<svg xmlns="http://www.w3.org/2000/svg">{svg}</svg>'
    escaped = whole.replace('"', '\\"').replace("<", "\\u003c").replace(">", "\\u003e")
    changed = re.sub(
        r'"profile_svg":"(?:[^"\\]|\\.)*"', lambda _: f'"profile_svg":"{escaped}"', text
    )
    page = tmp_path / "page.html"
    page.write_text(changed, "utf-8")
    with opened_page(browser, page.as_uri(), barred="Content Security Policy") as tab:
        tab.keyboard.press("n")
        tab.keyboard.press("l")
        drawing = tab.locator("dialog.flat svg")
        expect(drawing.locator("path")).to_have_count(1)
        names = drawing.locator("*").evaluate_all("all => all.map(e => e.localName)")
        assert names == ["g", left]
        facts = drawing.locator("*").evaluate_all(
            "all => all.flatMap(e => [...e.attributes].map(a => a.name))"
        )
        assert set(facts) <= {"data-layer", "d"}


def test_the_line_of_the_text_is_copied(browser: Browser, saved: Path) -> None:
    with opened_page(browser, saved.as_uri()) as tab:
        tab.context.grant_permissions(["clipboard-read", "clipboard-write"])
        tab.get_by_role("treeitem", name="end_f").click()
        line = tab.locator(".slip .source code").text_content()
        assert line is not None
        assert re.search(r"hive-box\.dry:\d+$", line)
        tab.get_by_role("button", name=f"Copy {line}").click()
        expect(tab.get_by_role("status")).to_have_text(f"Copied {line}")
        assert tab.evaluate("() => navigator.clipboard.readText()") == line


def test_sheets_are_listed_and_shown_where_there_are_some(
    browser: Browser, saved: Path, tmp_path: Path
) -> None:
    sheet = (
        '{"name":"ply12 1","stock":"ply12","size_mm":[2440,1220],"parts":["a","b"],"svg":"'
        "\\u003csvg xmlns='http://www.w3.org/2000/svg'\\u003e\\u003crect width='2440' "
        "height='1220'/\\u003e\\u003c/svg\\u003e\"}"
    )
    text = saved.read_text("utf-8")
    assert text.count('"sheets":[]') == 1
    page = tmp_path / "page.html"
    page.write_text(text.replace('"sheets":[]', f'"sheets":[{sheet}]'), "utf-8")
    with opened_page(browser, page.as_uri()) as tab:
        tab.get_by_role("tab", name="Sheets").click()
        tab.get_by_role("button", name="ply12 1").click()
        flat = tab.get_by_role("dialog", name="Flat part")
        expect(flat).to_contain_text("2440 × 1220 mm of ply12, 2 parts")
        expect(flat.locator("svg rect")).to_have_count(1)


def test_lengths_in_inches_and_back(tab: Page) -> None:
    part = tab.get_by_role("treeitem", name="end_f")
    expect(part).to_contain_text("mm")
    tab.get_by_role("button", name="Lengths in millimetres").click()
    expect(part).to_contain_text(re.compile(r"\d+ \d+/\d+ × .* in$"))
    tab.keyboard.press("u")
    expect(part).to_contain_text("mm")


def test_fractions_are_lowest_terms_of_64ths(browser: Browser, folder: Path) -> None:
    """Blanks of 1 in, 25/64 in and 16 + 5/16 in, worked out by hand in mm."""
    thin = replace(PLY, thick=Fraction("9.921875"))
    boards = (board_plan("one", thin, ((0, 414.3375), (0, 25.4), (0, 9.921875))),)
    page = handmade(
        CutPlan(design=Design(name="x", stocks=(thin,)), boards=boards, joints=()), folder
    )
    with opened_page(browser, page.as_uri()) as tab:
        tab.keyboard.press("u")
        expect(tab.get_by_role("treeitem")).to_contain_text("16 5/16 × 1 × 25/64 in")


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, relative luminance and contrast ratio, of `rgb(r, g, b)`."""

    def light(said: str) -> float:
        parts = [int(part) / 255 for part in re.findall(r"\d+", said)[:3]]
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((light(one), light(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_light_and_dark_follow_the_system_and_read_well(
    browser: Browser, saved: Path, scheme: str
) -> None:
    with opened_page(browser, saved.as_uri(), color_scheme=scheme) as tab:
        assert state(tab)["theme"] == scheme
        tab.keyboard.press("n")
        pairs = tab.evaluate("""() => {
          const ground = (e) => {
            for (let at = e; at; at = at.parentElement) {
              const colour = getComputedStyle(at).backgroundColor;
              if (!colour.endsWith(', 0)')) return colour;
            }
          };
          const told = [...document.querySelectorAll('h1, h2, h3, p, dd, dt, button, code, .note')]
            .filter((e) => e.checkVisibility() && e.textContent.trim() && !e.disabled);
          return told.map((e) => [e.textContent, getComputedStyle(e).color, ground(e)]);
        }""")
        assert len(pairs) > 20
        poor = [said for said, ink, ground in pairs if contrast(ink, ground) < 4.5]
        assert poor == []
        tab.keyboard.press("d")
        assert state(tab)["theme"] != scheme


def test_light_and_units_chosen_by_hand_outlast_a_reload(browser: Browser, saved: Path) -> None:
    with opened_page(browser, saved.as_uri(), color_scheme="light") as tab:
        tab.keyboard.press("u")
        tab.keyboard.press("d")
        tab.reload()
        tab.wait_for_function("() => window.dryfit && dryfit.state.times.first > 0")
        assert (state(tab)["units"], state(tab)["theme"]) == ("in", "dark")
        tab.keyboard.press("u")
        tab.emulate_media(color_scheme="dark")
        tab.emulate_media(color_scheme="light")
        assert (state(tab)["units"], state(tab)["theme"]) == ("mm", "dark")


FORBIDDEN = """Object.defineProperty(window, 'localStorage', {
  get() { throw new DOMException('not here', 'SecurityError'); }
})"""


def test_a_browser_that_lets_nothing_be_kept_shows_the_page_all_the_same(
    browser: Browser, saved: Path
) -> None:
    with opened_page(browser, saved.as_uri(), color_scheme="light") as tab:
        tab.add_init_script(FORBIDDEN)
        tab.reload()
        tab.wait_for_function("() => window.dryfit && dryfit.state.times.first > 0")
        tab.keyboard.press("d")
        tab.keyboard.press("u")
        assert (state(tab)["units"], state(tab)["theme"]) == ("in", "dark")


def test_print_gives_a_drawing_in_ink_on_white_with_a_title(tab: Page) -> None:
    tab.keyboard.press("n")
    tab.get_by_role("button", name="Sizes").click()
    before = state(tab)["camera"]
    tab.evaluate("() => { window.dispatchEvent(new Event('beforeprint')); }")
    tab.emulate_media(media="print")
    expect(tab.locator(".print")).to_be_visible()
    expect(tab.locator(".bar")).to_be_hidden()
    expect(tab.locator(".print figcaption")).to_contain_text("Hive box")
    expect(tab.locator(".print figcaption")).to_contain_text("over all, 5 parts")
    tones = tab.evaluate("""() => {
      const page = document.querySelector('.print canvas');
      const { data } = page.getContext('2d').getImageData(0, 0, page.width, page.height);
      let [white, ink, coloured] = [0, 0, 0];
      for (let i = 0; i < data.length; i += 4) {
        const [r, g, b] = [data[i], data[i + 1], data[i + 2]];
        if (Math.max(r, g, b) - Math.min(r, g, b) > 24) coloured++;
        else if (r > 250) white++;
        else if (r < 60) ink++;
      }
      return { white, ink, coloured, all: data.length / 4, edge: data[0] };
    }""")
    assert tones["edge"] == 255
    assert tones["white"] > 0.4 * tones["all"]
    assert tones["ink"] > 0.002 * tones["all"]
    assert tones["coloured"] < 0.001 * tones["all"], "no wood, nothing picked"
    tab.emulate_media(media="screen")
    assert state(tab)["camera"] == before


# -- keys, names, sizes of window ----------------------------------------------------------------


def test_every_control_is_reached_by_tab_and_has_a_name(tab: Page) -> None:
    tab.keyboard.press("n")
    reached: list[str] = []
    for _ in range(60):
        tab.keyboard.press("Tab")
        told = tab.evaluate("""() => {
          const e = document.activeElement;
          const own = e.getAttribute('aria-label') || e.labels?.[0]?.textContent || e.textContent;
          return [e.localName, own.trim(), e.matches(':focus-visible')
            && getComputedStyle(e).outlineStyle !== 'none'];
        }""")
        if told[0] == "body":
            break
        name, words, seen = told
        assert words, name
        assert seen, (name, words)
        reached.append(words)
    for wanted in ("Look inside", "Measure", "Print", "Filter the ledger", "Hide", "Steps", "Play"):
        assert wanted in reached, (wanted, reached)
    assert any(words.startswith("The piece.") for words in reached)
    assert len(reached) == len(set(reached)), "the ledger is one stop"


def test_the_ledger_is_walked_with_arrows(tab: Page) -> None:
    tab.get_by_role("tab", name="Parts").press("Tab")
    for key in ("ArrowDown", "ArrowDown", "Enter"):
        tab.keyboard.press(key)
    rows = tab.locator("[role=treeitem]")
    expect(rows.nth(2)).to_have_attribute("aria-selected", "true")
    tab.keyboard.press("End")
    expect(rows.last).to_be_focused()


def test_the_question_mark_lists_the_keys_and_letters_can_be_switched_off(tab: Page) -> None:
    tab.keyboard.press("?")
    keys = tab.get_by_role("dialog", name="List of keys")
    expect(keys).to_contain_text("Hide or show what is picked")
    keys.get_by_role("checkbox").uncheck()
    tab.keyboard.press("Escape")
    tab.keyboard.press("x")
    assert state(tab)["inside"]["on"] is False
    tab.keyboard.press("?")
    keys.get_by_role("checkbox").check()
    tab.keyboard.press("Escape")
    tab.keyboard.press("x")
    assert state(tab)["inside"]["on"] is True


def test_letters_typed_into_the_filter_are_letters(tab: Page) -> None:
    tab.keyboard.press("/")
    tab.keyboard.type("xmh")
    told = state(tab)
    assert (told["filter"], told["inside"]["on"], told["measure"]["on"]) == ("xmh", False, False)


def test_motion_is_eased_unless_none_is_wanted(browser: Browser, saved: Path) -> None:
    with opened_page(browser, saved.as_uri(), reduced_motion="no-preference") as tab:
        moving = tab.evaluate("""() => {
          document.activeElement.blur();
          document.dispatchEvent(new KeyboardEvent('keydown', { key: '2' }));
          return dryfit.state.camera.moving;
        }""")
        assert moving
        tab.wait_for_function("() => !dryfit.state.camera.moving")
        assert state(tab)["camera"]["yaw"] == 0
    with opened_page(browser, saved.as_uri()) as tab:
        tab.keyboard.press("2")
        assert state(tab)["camera"]["moving"] is False


@pytest.mark.parametrize("size", [PHONE, WALL], ids=["360", "4K"])
def test_it_fits_the_window(browser: Browser, saved: Path, size: dict[str, Any]) -> None:
    narrow = size is PHONE
    with opened_page(browser, saved.as_uri(), viewport=size, has_touch=narrow) as tab:
        wide, high = tab.evaluate("[document.body.scrollWidth, document.body.scrollHeight]")
        assert wide <= size["width"]
        assert high <= size["height"]
        frame = tab.locator("canvas.picture").bounding_box()
        assert frame is not None
        assert frame["width"] * frame["height"] > 0.5 * size["width"] * size["height"]
        low, high_corner = box(tab, "side_l")
        middle = [(a + b) / 2 for a, b in zip(low, high_corner, strict=True)]
        assert colour(tab, *middle)[3] == 255
        if narrow:
            heights = tab.locator("button:visible, select:visible").evaluate_all(
                "all => all.map(e => e.getBoundingClientRect().height)"
            )
            assert min(heights) >= 40, "large enough for a finger"
            tools = tab.get_by_role("group", name="Tools")
            for tool in tools.locator("button:visible, select:visible").all():
                room = tool.evaluate("e => [e.scrollWidth - e.clientWidth, innerWidth]")
                seen = tool.bounding_box()
                assert room[0] <= 0, "its words fit"
                assert seen is not None
                assert 0 <= seen["x"] <= seen["x"] + seen["width"] <= room[1]
            tab.get_by_role("button", name="Ledger").click()
            tab.get_by_role("treeitem", name="side_l").click()
            expect(tab.get_by_label("What is picked")).to_contain_text("Size")


# -- names ---------------------------------------------------------------------------------------

HOSTILE = (
    "<img src=x onerror=hurt()>",
    "</script><script>hurt()</script>",
    "\u202eevil\u2066name",
    "W" * 3000,
    "${hurt()} {{hurt()}} javascript:hurt()",
    "'\"`><b>bold</b>",
)


def handmade(plan: CutPlan, folder: Path) -> Path:
    inspection = Inspection(
        file=plan.design.name, findings=(), pages=Pages({}), design=plan.design, plan=plan
    )
    looking = Looking(Request(file=inspection.file))
    made = looking.seen(inspection, looking.worked(inspection))
    return page_of(made, folder / "handmade.html", plan.design.name)


def test_names_do_nothing_but_name(browser: Browser, folder: Path) -> None:
    boards = tuple(
        board_plan(name, PLY, ((0, 300), (0, 100), (20.0 * i, 20.0 * i + 12)))
        for i, name in enumerate(HOSTILE)
    )
    design = Design(name=HOSTILE[0] + HOSTILE[3], stocks=(PLY,))
    page = handmade(CutPlan(design=design, boards=boards, joints=()), folder)
    with opened_page(browser, page.as_uri(), viewport=PHONE) as tab:
        assert tab.locator("h1").text_content() == design.name
        assert tab.locator("#page img, #page b, #page script").count() == 0
        for name in HOSTILE:
            tab.keyboard.press("n")
            assert state(tab)["pickedBoards"] == [name]
            assert tab.locator(".slip h2").text_content() == name
            tab.keyboard.press("l")
            assert tab.locator("dialog.flat h2").text_content() == name
            tab.keyboard.press("Escape")
        assert tab.evaluate("typeof hurt") == "undefined"
        assert tab.evaluate("document.body.scrollWidth") <= PHONE["width"]
