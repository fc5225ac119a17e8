"""Every explain page is true: its programs are run and its message compared.

`--update` writes the message blocks anew, and nothing else of a page.
"""

from pathlib import Path

import pytest
from dryfit.lang.codes import CODES, code_named
from looking import drawing, look, marks
from pages import read_page, with_message

PAGES = sorted((Path(__file__).parents[2] / "lang" / "explain").glob("*.md"))


def test_there_are_pages() -> None:
    assert len(PAGES) >= len([entry for entry in CODES if not entry.is_retired]) > 0


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_page(path: Path, request: pytest.FixtureRequest) -> None:
    text = path.read_text(encoding="utf-8")
    page = read_page(text)
    assert page.code == path.stem
    entry = code_named(page.code)
    assert entry is not None
    failing = look(page.failing)
    assert [mark for _, _, mark in marks(failing)] == [f"{entry.severity.value}[{page.code}]"], (
        drawing(failing)
    )
    message = drawing(failing)
    if request.config.getoption("--update"):
        path.write_text(with_message(text, page, message), encoding="utf-8")
    else:
        assert page.message is not None, "no message yet: run with --update"
        assert page.message.body == message + "\n"
    mended = look(page.mended)
    assert mended.findings == (), drawing(mended)
