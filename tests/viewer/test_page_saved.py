"""One file that shows itself: from the disk, without a network, whatever stands in it."""

import base64
import json
from pathlib import Path
from typing import Any

import pytest
from dryfit.kernel.faults import InternalError
from dryfit.viewer.pagefiles import PageFiles
from dryfit.viewer.saved import MARK, inline_json, inline_script, saved_page
from dryfit.viewer.scene import Picture
from playwright.sync_api import Browser
from served import STAND_IN

TELLS_WHAT_IT_READ = """
const text = (id) => document.getElementById(id).textContent;
const scene = JSON.parse(text("dryfit-scene"));
const piece = atob(text("dryfit-glb"));
window.found = [scene, piece, document.querySelectorAll("script").length];
"""

READER = PageFiles(
    template=STAND_IN.template, script=TELLS_WHAT_IT_READ, style="body { color: rgb(1, 2, 3) }"
)

PIECE = bytes(range(256))

HOSTILE = [
    "</script><script>window.found='hurt'</script>",
    "</SCRIPT ><svg onload=alert(1)>",
    "<!--<script>",
    "-->",
    "]]>&amp;&#60;",
    "\u2028\u2029\u0000\u001f",
    "\\u003c/script\\u003e",
    "\U0001f52a\u202e\ufeff",
]


def opened(browser: Browser, page: Path) -> tuple[Any, list[str]]:
    """What the reader found in the file, and every address asked for, the network being cut."""
    context = browser.new_context(offline=True)
    asked: list[str] = []
    tab = context.new_page()
    tab.on("request", lambda request: asked.append(request.url))
    tab.on("dialog", lambda dialog: pytest.fail(f"a dialog: {dialog.message}"))
    tab.goto(page.as_uri())
    found = tab.evaluate("window.found")
    assert tab.evaluate("getComputedStyle(document.body).color") == "rgb(1, 2, 3)"
    context.close()
    return found, asked


@pytest.mark.parametrize("words", HOSTILE, ids=range(len(HOSTILE)))
def test_what_goes_in_comes_out_and_nothing_else_runs(
    browser: Browser, tmp_path: Path, words: str
) -> None:
    scene = {"design": words, words: [words]}
    shown = Picture(json.dumps(scene, ensure_ascii=False).encode(), PIECE)
    page = tmp_path / "page.html"
    page.write_text(saved_page(READER, shown, words), "utf-8")
    (read, piece, scripts), asked = opened(browser, page)
    assert read == scene
    assert piece.encode("latin-1") == PIECE
    assert scripts == 3
    assert asked == [page.as_uri()]


def test_a_script_that_is_not_ours_does_not_run(browser: Browser, tmp_path: Path) -> None:
    """Not even one that got in: the file's own policy names ours by its digest."""
    text = saved_page(READER, Picture(b"{}", b""), "x")
    more = "<script>window.found = 'hurt'</script><img src='x' onerror='window.found=1'></body>"
    page = tmp_path / "page.html"
    page.write_text(text.replace("</body>", more), "utf-8")
    context = browser.new_context()
    tab = context.new_page()
    tab.goto(page.as_uri())
    assert tab.title() == "x"
    assert tab.evaluate("window.found")[0] == {}
    context.close()


def test_a_saved_page_may_fetch_nothing(browser: Browser, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    page.write_text(saved_page(READER, Picture(b"{}", b""), "x"), "utf-8")
    context = browser.new_context()
    tab = context.new_page()
    tab.goto(page.as_uri())
    failed = tab.evaluate("fetch('http://127.0.0.1:9/').then(() => 'sent', (e) => e.message)")
    assert "Refused to connect" in failed or "Failed to fetch" in failed
    blocked = tab.evaluate(
        """new Promise((told) => {
            document.addEventListener("securitypolicyviolation", (e) => told(e.effectiveDirective));
            fetch("http://127.0.0.1:9/").catch(() => 0);
        })"""
    )
    assert blocked == "connect-src"
    context.close()


def test_the_title_is_text() -> None:
    text = saved_page(READER, Picture(b"{}", b""), "</title><script>")
    assert "<title>&lt;/title&gt;&lt;script&gt;</title>" in text


def test_the_same_picture_gives_the_same_file_and_it_ends_in_our_mark() -> None:
    one, two = (saved_page(READER, Picture(b"{}", PIECE), "x") for _ in range(2))
    assert one == two
    assert one.endswith(f"{MARK}\n")
    assert f">{base64.b64encode(PIECE).decode()}<" in one


@pytest.mark.parametrize("text", ["</script", "<!--", "<SCRIPT>"])
def test_a_bundle_that_would_end_itself_is_never_saved(text: str) -> None:
    with pytest.raises(InternalError):
        inline_script(f'const x = "{text}";')


def test_a_template_without_its_places_is_never_filled() -> None:
    for gone in ("page.js", "page.css", "<title>", "</body>", "<head>"):
        files = PageFiles(STAND_IN.template.replace(gone, ""), READER.script, READER.style)
        with pytest.raises(InternalError):
            saved_page(files, Picture(b"{}", b""), "x")


def test_json_stays_json() -> None:
    document = json.dumps({"<": ["&", ">", "\u2028", '"\\']}, ensure_ascii=False)
    inlined = inline_json(document.encode())
    assert json.loads(inlined) == json.loads(document)
    assert not set(inlined) & set("<>&\u2028\u2029")
