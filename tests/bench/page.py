"""How soon does a piece show in a browser, and how soon does an edit?

    python tests/bench/page.py [ROUNDS]

A real Chromium without a screen draws with the processor: what is told `painted` is slower than
with any graphics card. Times are medians in ms. `drawn` is when the page has handed its whole
picture over to the graphics, `painted` when every pixel of it is there; a frame takes the page's
own `script` first. `edit` begins with the save of the seed cabinet with another width, so that
nearly every board of it changes: `told` until the open page hears of it, `fetched` until both new
files are there, `checked` until the checks, the profiles and the steps are there too.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from designs import fine_trays, rack
from dryfit.lang.files import DiskFiles
from dryfit.lang.inspection import Request
from dryfit.viewer.looking import Looking
from dryfit.viewer.opened import Opened, opened
from dryfit.viewer.pagefiles import page_files
from dryfit.viewer.saved import saved_page
from playwright.sync_api import Browser, Page, sync_playwright

ROOT = Path(__file__).resolve().parents[2]
CABINET = ROOT / "examples" / "seed-cabinet.dry"
WIDTH = "width  = 360mm"
WINDOW = {"width": 1280, "height": 800}

CHROMIUM = Path("/usr/bin/chromium")
SOFTWARE = ["--headless", "--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader"]
SOFTWARE += ["--enable-unsafe-swiftshader"]


def median(times: list[float]) -> float:
    return statistics.median(times)


def await_that(tab: Page, condition: str) -> float:
    """Until it holds: the page's own clock, ms since 1970."""
    held: float = tab.evaluate(
        f"new Promise((done) => {{ const look = () => ({condition}) "
        "? done(performance.timeOrigin + performance.now()) : setTimeout(look, 2); look(); })"
    )
    return held


DRAWN = "window.dryfit && window.dryfit.state.times.first > 0"

PAINTED = """(() => {
    const graphics = document.querySelector("canvas.picture").getContext("webgl2");
    graphics.readPixels(0, 0, 1, 1, graphics.RGBA, graphics.UNSIGNED_BYTE, new Uint8Array(4));
    return performance.timeOrigin + performance.now();
})()"""
"""Waits for the graphics: ms since 1970."""


def written(design: Path, page: Path) -> None:
    """The design saved as a page, in this process: a start of Python is no part of it. Only the
    cabinet is checked: the checks of the others take longer than all that is measured here."""
    looking = Looking(Request(file=str(design)))
    inspection = looking.read(DiskFiles())
    worked = None
    if design == CABINET:
        inspection = looking.checked(inspection)
        worked = looking.worked(inspection)
    page.write_text(
        saved_page(page_files(), looking.seen(inspection, worked), design.stem), "utf-8"
    )


def load_of(browser: Browser, page: Path, rounds: int) -> None:
    """From the start of the page to its first picture, and a frame once it stands."""
    rows: dict[str, list[float]] = {"drawn": [], "painted": [], "script": [], "frame": []}
    triangles = 0
    for _ in range(rounds):
        tab = browser.new_page(viewport=WINDOW)
        tab.goto(page.as_uri())
        await_that(tab, DRAWN)
        rows["painted"].append(tab.evaluate(f"{PAINTED} - performance.timeOrigin"))
        rows["drawn"].append(tab.evaluate("window.dryfit.state.times.first"))
        for _ in range(5):
            rows["frame"].append(tab.evaluate("window.dryfit.frame()"))
            rows["script"].append(tab.evaluate("window.dryfit.state.lastFrame"))
        triangles = tab.evaluate("window.dryfit.state.counts.triangles")
        tab.close()
    first, painted, script, frame = (median(times) for times in rows.values())
    print(
        f"    {page.stem:14} {page.stat().st_size / 1e6:5.2f} MB {triangles:8} triangles   "
        f"first picture: drawn {first:5.0f}, painted {painted:5.0f}   "
        f"a frame: script {script:4.1f}, painted {frame:5.0f}"
    )


@contextmanager
def followed(design: Path) -> Iterator[Opened]:
    ended = threading.Event()
    with opened(Request(file=str(design)), page_files()) as page:
        following = threading.Thread(target=page.follow, args=(ended,))
        following.start()
        try:
            yield page
        finally:
            ended.set()
            following.join()


HEARS = """
void (window.news = new Promise((done) => {
    const events = new EventSource("events");
    const now = () => performance.timeOrigin + performance.now();
    let number = 0;
    events.addEventListener("scene", async (event) => {
        if (window.begun === undefined || number++) return;
        const told = now();
        const files = await Promise.all([fetch("scene.json"), fetch("scene.glb")]);
        await Promise.all(files.map((file) => file.arrayBuffer()));
        events.close();
        done([told, now()]);
    });
}));
"""


def update_of(browser: Browser, folder: Path, rounds: int) -> None:
    """Edits of the cabinet, one after another. News and files are timed in a tab that draws
    nothing; drawing in one that does."""
    design = folder / "cabinet.dry"
    text = CABINET.read_text("utf-8")
    design.write_text(text, "utf-8")
    kinds = ("told", "fetched", "drawn", "painted", "checked")
    rows: dict[str, list[float]] = {kind: [] for kind in kinds}
    with followed(design) as page:
        tab = browser.new_page(viewport=WINDOW)
        tab.goto(page.address)
        await_that(tab, f"{DRAWN} && window.dryfit.state.checked")
        for turn in range(rounds):
            wide = 370 + 10 * turn
            begun = time.time() * 1000
            design.write_text(text.replace(WIDTH, f"width  = {wide}mm"), "utf-8")
            shows = f"Math.abs((window.dryfit.box('bottom')?.[1][0] ?? 0) - {wide}) < 0.01"
            rows["drawn"].append(await_that(tab, shows) - begun)
            rows["painted"].append(tab.evaluate(PAINTED) - begun)
            checked = f"{shows} && window.dryfit.state.checked"
            rows["checked"].append(await_that(tab, checked) - begun)
        tab.close()
        bare = browser.new_page()
        bare.goto(f"{page.address}page.css")
        for turn in range(rounds):
            bare.evaluate(HEARS)
            bare.evaluate("new Promise((done) => setTimeout(done, 1500))")
            begun = time.time() * 1000
            bare.evaluate("void (window.begun = 1)")
            design.write_text(text.replace(WIDTH, f"width  = {375 + 10 * turn}mm"), "utf-8")
            told, fetched = bare.evaluate("window.news")
            bare.evaluate("void (window.begun = undefined)")
            rows["told"].append(told - begun)
            rows["fetched"].append(fetched - begun)
        bare.close()
    figures = "   ".join(f"{name} {median(times):5.0f}" for name, times in rows.items())
    print(f"    edit of the seed cabinet   {figures}   aim: drawn 300")


def main() -> None:
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    print("(v) the page in a browser, ms")
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        folder = Path(name)
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=SOFTWARE)
        thousand = folder / "rack-1000.dry"
        thousand.write_text(rack(1000), "utf-8")
        fine = folder / "trays-300.dry"
        fine.write_text(fine_trays(300), "utf-8")
        for design in (CABINET, thousand, fine):
            page = folder / f"{design.stem}.html"
            written(design, page)
            load_of(browser, page, rounds if design is CABINET else 1)
        update_of(browser, folder, rounds)
        browser.close()


if __name__ == "__main__":
    main()
