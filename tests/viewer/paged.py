"""A saved page opened in a browser, and its state as it tells it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from dryfit.viewer.pagefiles import page_files
from dryfit.viewer.saved import saved_page
from dryfit.viewer.scene import Picture
from playwright.sync_api import Browser, Page
from scenes import shown

ROOT = Path(__file__).parents[2]

SMALL = {"width": 1000, "height": 640}

Colour = tuple[int, int, int, int]


def page_of(picture: Picture, at: Path, title: str = "piece") -> Path:
    """A page of a picture, saved to the disk."""
    at.write_text(saved_page(page_files(), picture, title), "utf-8")
    return at


def example_page(name: str, folder: Path) -> Path:
    _, picture = shown(ROOT / "examples" / f"{name}.dry")
    return page_of(picture, folder / f"{Path(name).stem}.html")


@contextmanager
def opened_page(browser: Browser, address: str, barred: str = "", **asked: Any) -> Iterator[Page]:
    """The page once its first picture stands; what the browser complains of fails the test, but
    for complaints that it `barred` something."""
    context = browser.new_context(**{"viewport": SMALL, "reduced_motion": "reduce", **asked})
    tab = context.new_page()
    amiss: list[str] = []
    tab.on("pageerror", lambda error: amiss.append(str(error)))
    tab.on("console", lambda said: amiss.append(said.text) if said.type == "error" else None)
    tab.on("dialog", lambda dialog: amiss.append(dialog.message))
    tab.goto(address)
    tab.wait_for_function("() => window.dryfit && dryfit.state.times.first > 0")
    yield tab
    context.close()
    assert [words for words in amiss if not barred or barred not in words] == []


def state(tab: Page) -> dict[str, Any]:
    return dict(tab.evaluate("JSON.parse(JSON.stringify(dryfit.state))"))


def pixel(tab: Page, *at: float) -> tuple[float, float]:
    """Where on the window a point of the piece is drawn."""
    x, y = tab.evaluate("(at) => dryfit.pixel(at)", list(at))
    return x, y


def colour(tab: Page, *at: float) -> Colour:
    """What is drawn at a point of the piece; nothing has cover 0."""
    # In one go: between two calls the page may find its size.
    seen = "(at) => dryfit.colours([dryfit.pixel(at)])[0]"
    red, green, blue, cover = tab.evaluate(seen, list(at))
    return red, green, blue, cover


def box(tab: Page, board: str) -> tuple[list[float], list[float]]:
    low, high = tab.evaluate("(name) => dryfit.box(name)", board)
    return low, high


def met(tab: Page, *at: float) -> Any:
    """The board seen at a point of the piece, None for none."""
    found = tab.evaluate("(at) => dryfit.met(...dryfit.pixel(at))", list(at))
    return None if found is None else found["board"]


def settle(tab: Page) -> None:
    """Waits until the page has given the picture the room that its words leave."""
    tab.evaluate(
        "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"
    )


def click(tab: Page, *at: float) -> None:
    settle(tab)
    tab.mouse.click(*pixel(tab, *at))


def is_wood(seen: Colour) -> bool:
    """Warm: red over green over blue, wholly covered."""
    red, green, blue, cover = seen
    return cover == 255 and red > green > blue


def set_range(tab: Page, name: str, value: float) -> None:
    tab.get_by_role("slider", name=name).fill(str(value))
