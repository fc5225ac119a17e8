"""The page as it was built: which files is it made of, and where do they lie?

The files are those of `viewer/page/`, bundled when the package is installed (`build_page.py`).
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ..kernel.faults import Fault

BUILT = Path(__file__).parent / "dist"

TEMPLATE, SCRIPT, STYLE = "index.html", "page.js", "page.css"


@dataclass(frozen=True, slots=True)
class PageFiles:
    """The template refers to the other two by these names; all are UTF-8."""

    template: str
    script: str
    style: str


def page_files(folder: Path = BUILT) -> PageFiles:
    """The built page; Fault where the package was put in its place without being built."""
    try:
        return PageFiles(
            *((folder / name).read_text("utf-8") for name in (TEMPLATE, SCRIPT, STYLE))
        )
    except OSError as error:
        raise Fault(
            f"the page is not built (`{error.filename}` cannot be read): install dryfit again"
        ) from error
