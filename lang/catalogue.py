"""How does the catalogue of joints look, as a page and as one sheet?

Pure: each joint's words, program and two pictures in; HTML and SVG out. The drawings are the
tool's own (`kernel/picture.py`); this module lays them side by side.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from .pages import Page, as_html


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One program of the catalogue: `name` is its file's, `family` the joint it shows; `closed`
    and `apart` are SVG documents."""

    name: str
    family: str
    title: str
    words: str
    program: str
    closed: str
    apart: str


HEAD = """<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>{title}</title>
<style>
:root {{ color-scheme: light; --ground: #FAF8F4; --ink: #23211E; --muted: #655F56;
  --rule: #D9D3C7 }}
body {{ margin: 0 auto; max-width: {width}; padding: 1.5rem; background: var(--ground);
  color: var(--ink); font: 14px/1.4 system-ui, sans-serif }}
h1 {{ font-size: 1.5rem; font-weight: 600 }}
h2 {{ font-size: 1rem; margin: 0 }}
a {{ color: inherit }}
.pair {{ display: flex; gap: 1rem; align-items: end }}
.pair img {{ min-width: 0; width: 100% }}
pre {{ overflow-x: auto; font: 12px/1.5 ui-monospace, monospace; margin: .75rem 0 0 }}
{more}</style>
"""

SHEET_STYLE = """main { display: grid; gap: 2rem;
  grid-template-columns: repeat(auto-fill, minmax(22rem, 1fr)) }
article { border-top: 1px solid var(--rule); padding-top: .75rem; min-width: 0 }
p { margin: .25rem 0 .75rem; color: var(--muted) }
@media (max-width: 30rem) { body { padding: .75rem } main { grid-template-columns: 1fr } }
"""

PAGE_STYLE = """h2 { border-top: 1px solid var(--rule); margin: 1.5rem 0 0; padding-top: .75rem }
p, ul { max-width: 44rem }
li { margin: .25rem 0 }
code { font: 13px ui-monospace, monospace }
.pair { max-width: 44rem; margin: 1rem 0 }
.wide { overflow-x: auto }
table { border-collapse: collapse; margin: .75rem 0 }
th, td { text-align: left; vertical-align: top; padding: .15rem 1rem .15rem 0; font-weight: 400 }
th { color: var(--muted) }
.number { text-align: right }
@media (max-width: 30rem) { body { padding: .75rem } }
"""


ARTICLE = """<article>
<h2><a href="{family}.html">{title}</a></h2>
<p>{words}</p>
<div class="pair"><img src="{name}-closed.svg" style="flex: {closed} 1 0" alt="{title}, closed">
<img src="{name}-apart.svg" style="flex: {apart} 1 0" alt="{title}, drawn apart"></div>
<details><summary>Program</summary><pre>{program}</pre></details>
</article>"""


def page(entries: Sequence[Entry]) -> str:
    """The catalogue as one HTML page beside its pictures."""
    head = HEAD.format(title="Joints", width="76rem", more=SHEET_STYLE)
    articles = "\n".join(_article(entry) for entry in entries)
    return f"{head}<h1>Joints</h1>\n<main>\n{articles}\n</main>\n</html>\n"


def document(shown: Page) -> str:
    """The page of one joint as an HTML document beside the drawings that it shows."""
    head = HEAD.format(title=escape(shown.title), width="60rem", more=PAGE_STYLE)
    back = '<p><a href="index.html">All joints</a></p>'
    return f"{head}{back}\n{as_html(shown)}\n</html>\n"


def _article(entry: Entry) -> str:
    return ARTICLE.format(
        name=entry.name,
        family=entry.family,
        title=escape(entry.title),
        words=escape(entry.words),
        program=escape(entry.program),
        closed=_size(entry.closed)[0],
        apart=_size(entry.apart)[0],
    )


def _size(drawing: str) -> tuple[int, int]:
    """Width and height in px, as its head says."""
    size = _SIZE.search(drawing)
    return (int(size[1]), int(size[2])) if size else (1, 1)


CELL_WIDTH, CELL_HEIGHT, CAPTION, GAP, COLUMNS = 360, 200, 30, 12, 3
_SIZE = re.compile(r'<svg [^>]*?width="(\d+)" height="(\d+)"')


def sheet(entries: Sequence[Entry]) -> str:
    """All joints on one SVG sheet, each closed and drawn apart, in columns."""
    rows = -(-len(entries) // COLUMNS)
    width, height = COLUMNS * CELL_WIDTH, rows * (CELL_HEIGHT + CAPTION)
    cells = "\n".join(
        _cell(entry, i % COLUMNS * CELL_WIDTH, i // COLUMNS * (CELL_HEIGHT + CAPTION))
        for i, entry in enumerate(entries)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}"'
        f' viewBox="0 0 {width} {height}" role="img">\n<title>Joints</title>\n{cells}\n</svg>\n'
    )


def _cell(entry: Entry, x: int, y: int) -> str:
    """The caption and under it both drawings to one scale, side by side."""
    drawings = (entry.closed, entry.apart)
    (closed, tall), (apart, taller) = (_size(drawing) for drawing in drawings)
    room = (CELL_WIDTH - 2 * GAP) / (closed + apart)
    scale = min(room, (CELL_HEIGHT - GAP) / max(tall, taller))
    caption = (
        f'<text x="{x}" y="{y + 18}" font-family="sans-serif" font-size="13" class="unit"'
        f' fill="#655F56">{escape(entry.title)}</text>'
    )
    starts = (x, x + round(closed * scale) + GAP)
    foot = y + CAPTION + CELL_HEIGHT - GAP
    return "\n".join(
        (caption, *(_put(d, start, foot, scale) for d, start in zip(drawings, starts, strict=True)))
    )


def _put(drawing: str, x: int, foot: int, scale: float) -> str:
    """The drawing inside the sheet, standing on `foot`."""
    width, height = _size(drawing)
    wide, high = round(width * scale), round(height * scale)
    head = (
        f'<svg x="{x}" y="{foot - high}" width="{wide}" height="{high}"'
        f' viewBox="0 0 {width} {height}">'
    )
    return head + drawing[drawing.index(">") + 1 :].strip()
