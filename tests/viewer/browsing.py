"""Pages opened in a real browser, for the tests: what they ask for, what goes wrong in them."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from playwright.sync_api import Browser, Page

SMALL = {"width": 800, "height": 420}
"""A window that is soon drawn without a graphics card."""


@dataclass
class Tab:
    """A page, every address it asked for, and every complaint of the browser about it."""

    page: Page
    asked: list[str] = field(default_factory=list)
    amiss: list[str] = field(default_factory=list)

    @property
    def state(self) -> Any:
        """What the page says of itself."""
        return self.page.evaluate("window.dryfit.state")

    def await_that(self, condition: str) -> None:
        """Waits until the expression holds in the page; fails after its patience.

        Handed in by the debugger, as the page's policy lets no text become code.
        """
        self.page.evaluate(
            f"""new Promise((done, failed) => {{
                const end = performance.now() + 60000;
                const look = () => {{
                    if ({condition}) done(true);
                    else if (performance.now() > end) failed(new Error("it never held"));
                    else setTimeout(look, 5);
                }};
                look();
            }})"""
        )


@contextmanager
def tab_at(browser: Browser, address: str, *, offline: bool = False) -> Iterator[Tab]:
    """The page at an address, its first picture drawn."""
    context = browser.new_context(offline=offline, viewport=SMALL, reduced_motion="reduce")
    tab = Tab(context.new_page())
    tab.page.on("request", lambda request: tab.asked.append(request.url))
    tab.page.on("pageerror", lambda error: tab.amiss.append(str(error)))
    tab.page.on("dialog", lambda dialog: tab.amiss.append(f"dialog: {dialog.message}"))
    tab.page.on(
        "console", lambda said: tab.amiss.append(said.text) if said.type == "error" else None
    )
    try:
        tab.page.goto(address)
        tab.await_that("window.dryfit && window.dryfit.state.times.first > 0")
        yield tab
    finally:
        context.close()
