"""How do drawings of joints lie side by side on one sheet?

Pure: figures with their sizes in px in, SVG out. Every figure stands on the foot of its row, all to
one scale, with the joint's name above; one scale bar holds for the whole sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape


@dataclass(frozen=True, slots=True)
class Figure:
    """SVG elements that fill `width` by `height` px."""

    body: str
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Panel:
    """A joint's name, a line on it, and its figures from left to right."""

    title: str
    words: str
    figures: tuple[Figure, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """`columns` of panels, figures drawn at `scale`, with `heads` over the figures of each column.
    `bar` is a scale bar of its own size, drawn at the foot."""

    columns: int
    scale: float
    heads: tuple[str, ...] = ()
    bar: Figure | None = None


MARGIN, GAP, GUTTER = 16.0, 14.0, 40.0
"""px round the sheet, between figures, between panels."""
BELOW = 28.0
"""px under each row."""

TITLE, WORDS, HEAD = 30.0, 16.0, 22.0
INK, MUTED, RULE, GROUND = "#23211E", "#655F56", "#D9D3C7", "#FAF8F4"
FONT = "system-ui,Helvetica,Arial,sans-serif"


def sheet(title: str, panels: Sequence[Panel], layout: Layout) -> str:
    """All panels in rows, as an SVG document on its own ground."""
    widths = _slots(panels, layout)
    panel_width = sum(widths) + GAP * (len(widths) - 1)
    width = 2 * MARGIN + layout.columns * panel_width + (layout.columns - 1) * GUTTER
    lefts = [MARGIN + k * (panel_width + GUTTER) for k in range(layout.columns)]
    parts = [_heads(layout.heads, left, widths) for left in lefts] if layout.heads else []
    y = MARGIN + (HEAD if layout.heads else 0.0)
    for start in range(0, len(panels), layout.columns):
        row = panels[start : start + layout.columns]
        tall = max(f.height for panel in row for f in panel.figures) * layout.scale
        foot = y + TITLE + (WORDS if any(panel.words for panel in row) else 0.0) + tall
        for panel, left in zip(row, lefts, strict=False):
            parts.append(_panel(panel, (left, y, foot), widths, layout.scale))
        y = foot + BELOW
    if layout.bar is not None:
        parts.append(_placed(layout.bar, MARGIN, y, 1.0))
        y += layout.bar.height
    return _document(title, width, y + MARGIN, parts)


def _slots(panels: Sequence[Panel], layout: Layout) -> list[float]:
    """How wide each figure's place is: as the widest that stands there."""
    count = max((len(panel.figures) for panel in panels), default=0)
    return [
        max(panel.figures[k].width for panel in panels if k < len(panel.figures)) * layout.scale
        for k in range(count)
    ]


def _heads(heads: tuple[str, ...], left: float, widths: list[float]) -> str:
    found = []
    for head, width in zip(heads, widths, strict=False):
        found.append(_note(head, left, MARGIN + 10))
        left += width + GAP
    return "\n".join(found)


def _panel(panel: Panel, at: tuple[float, float, float], widths: list[float], scale: float) -> str:
    """The rule, both captions, and under them the figures; `at` is left, top and foot."""
    x, y, foot = at
    across = sum(widths) + GAP * (len(widths) - 1)
    parts = [
        f'<path d="M{_px(x)} {_px(y)}h{_px(across)}" stroke="{RULE}"/>',
        _title(panel.title, x, y + 18),
        _note(panel.words, x, y + 34),
    ]
    for figure, width in zip(panel.figures, widths, strict=False):
        parts.append(_placed(figure, x, foot - figure.height * scale, scale))
        x += width + GAP
    return "\n".join(parts)


def _placed(figure: Figure, x: float, y: float, scale: float) -> str:
    grown = "" if scale == 1.0 else f" scale({scale:g})"
    return f'<g transform="translate({_px(x)} {_px(y)}){grown}">{figure.body}</g>'


def _title(words: str, x: float, y: float) -> str:
    return _text(words, (x, y), f'fill="{INK}" font-size="14" font-weight="600"')


def _note(words: str, x: float, y: float) -> str:
    return _text(words, (x, y), f'fill="{MUTED}" font-size="11"')


def _text(words: str, at: tuple[float, float], style: str) -> str:
    place = f'x="{_px(at[0])}" y="{_px(at[1])}"'
    return f'<text {place} {style} font-family="{FONT}">{escape(words)}</text>' if words else ""


def _document(title: str, width: float, height: float, parts: Sequence[str]) -> str:
    wide, high = _px(width), _px(height)
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}" height="{high}"'
            f' viewBox="0 0 {wide} {high}" role="img">',
            f"<title>{escape(title)}</title>",
            f'<rect width="{wide}" height="{high}" fill="{GROUND}"/>',
            *parts,
            "</svg>",
            "",
        )
    )


def _px(value: float) -> str:
    """A length on the sheet, to the tenth of a px."""
    return f"{round(value, 1) + 0.0:g}"
