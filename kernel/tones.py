"""Which colour has a piece of wood in pictures and meshes?

Species give the tone; it never tells what is cut or how deep. Names of species and stocks are a
user's words: the first word that is a known wood counts.
"""

from __future__ import annotations

import re
from typing import TypeAlias

from .stock import Stock

Colour: TypeAlias = tuple[float, float, float]
"""Red, green, blue in 0..1, sRGB."""

WOODS = {
    "ash": "#E3D3B4",
    "beech": "#DDB78E",
    "birch": "#E8D5B0",
    "cedar": "#B97F5A",
    "spruce": "#EBD3A4",
    "maple": "#E3C9A0",
    "pine": "#E2B877",
    "oak": "#C99B61",
    "cherry": "#B9764B",
    "walnut": "#7A5237",
    "mdf": "#B59B7A",
}

INK: Colour = (0x23 / 255, 0x21 / 255, 0x1E / 255)
WHITE: Colour = (1.0, 1.0, 1.0)


def wood_tone(stock: Stock) -> Colour:
    """The tone of the stock's species; without a known one, birch for sheets, pine for lumber."""
    said = re.split(r"[^a-z]+", f"{stock.species or ''} {stock.name}".lower())
    plain = "pine" if stock.sheet is None else "birch"
    return _colour(next((WOODS[word] for word in said if word in WOODS), WOODS[plain]))


def mixed(one: Colour, other: Colour, share: float) -> Colour:
    """`one` with `share` of `other` in it, 0..1."""
    a, b, c = (p + (q - p) * share for p, q in zip(one, other, strict=True))
    return a, b, c


def hex_of(colour: Colour) -> str:
    """`#RRGGBB`."""
    return "#" + "".join(f"{round(255 * c):02X}" for c in colour)


def linear(colour: Colour) -> Colour:
    """The colour in linear light (IEC 61966-2-1), as a glTF material wants it."""
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour)
    return r, g, b


def _colour(text: str) -> Colour:
    r, g, b = (int(text[k : k + 2], 16) / 255 for k in (1, 3, 5))
    return r, g, b
