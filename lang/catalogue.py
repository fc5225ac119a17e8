"""How does the catalogue of joints look, as a page?

Pure: each joint's words, program and pictures in; HTML out. The drawings are the tool's own
(`kernel/picture.py`); `sheet.py` lays them on one sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from .pages import Page, as_html


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """One picture of a joint: the end of its file's name, what it shows, and an SVG document so
    many px wide."""

    ending: str
    shows: str
    text: str
    width: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One program of the catalogue: `name` is its file's, `family` the joint it shows."""

    name: str
    family: str
    title: str
    words: str
    program: str
    drawings: tuple[Drawing, ...]


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
.pair {{ display: flex; flex-wrap: wrap; gap: 1rem 2rem; align-items: end }}
.pair img {{ max-width: 100% }}
pre {{ overflow-x: auto; font: 12px/1.5 ui-monospace, monospace; margin: .75rem 0 0 }}
{more}</style>
"""

SHEET_STYLE = """main { display: grid; gap: 2rem;
  grid-template-columns: repeat(auto-fill, minmax(26rem, 1fr)) }
.views { display: grid; grid-template-columns: auto auto; justify-content: start;
  gap: 1rem; align-items: end }
figure { margin: 0; min-width: 0 }
figure img { max-width: 100%; display: block }
figcaption { color: var(--muted); font-size: 12px }
article { border-top: 1px solid var(--rule); padding-top: .75rem; min-width: 0 }
p { margin: .25rem 0 .75rem; color: var(--muted) }
@media (max-width: 30rem) { body { padding: .75rem } main { grid-template-columns: 1fr }
  .views { display: flex; flex-wrap: wrap } /* rather than two scales side by side */ }
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
<div class="views">
{views}
</div>
<details><summary>Program</summary><pre>{program}</pre></details>
</article>"""


VIEW = """<figure><img src="{name}-{ending}.svg" width="{width}" alt="{title}, {shows}">
<figcaption>{shows}</figcaption></figure>"""


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
    title = escape(entry.title)
    return ARTICLE.format(
        family=entry.family,
        title=title,
        words=escape(entry.words),
        program=escape(entry.program),
        views="\n".join(_view(entry.name, title, drawing) for drawing in entry.drawings),
    )


def _view(name: str, title: str, drawing: Drawing) -> str:
    return VIEW.format(
        name=name,
        title=title,
        ending=drawing.ending,
        shows=escape(drawing.shows),
        width=drawing.width,
    )
