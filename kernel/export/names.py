"""What may a file made from a board be called, on any platform?

A board's name comes from the design and is not to be trusted as a file name: `drawer[1].front`
becomes `drawer-1-front`. Stems never differ by letter case alone, never are a name that Windows
keeps for a device, and depend on nothing but the names and their order.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from ..plan import CutPlan

LONGEST_STEM = 120
"""In bytes of UTF-8: file systems stop at 255 and a suffix and an ending must still fit."""

DEVICES = frozenset(
    ["con", "prn", "aux", "nul"]
    + [f"{port}{digit}" for port in ("com", "lpt") for digit in range(10)]
)
"""Names Windows keeps for devices, whatever ending follows (Microsoft, "Naming Files, Paths, and
Namespaces")."""


def scene_stem(plan: CutPlan) -> str:
    """The file name, without its ending, of the whole piece."""
    return _plain(plan.design.name) or "design"


def part_stems(plan: CutPlan) -> dict[str, str]:
    """The file name, without its ending, of each board by the board's name.

    No stem is the whole piece's: a board named like the design gets a number.
    """
    return stems((b.board.name for b in plan.boards), taken=(scene_stem(plan),))


def stems(names: Iterable[str], taken: Iterable[str] = ()) -> dict[str, str]:
    """A safe and unique stem for each name; of those that collide the first keeps its own.

    >>> stems(["drawer[1].front", "Drawer.1.front", "nul", "///"])["drawer[1].front"]
    'drawer-1-front'
    >>> list(stems(["a", "A", "a-2", "nul", "///"]).values())
    ['a', 'A-2', 'a-2-2', 'nul-part', 'part']
    """
    used = {_folded(stem) for stem in taken}
    found: dict[str, str] = {}
    for name in names:
        plain = _plain(name) or "part"
        stem, number = plain, 1
        while _folded(stem) in used:
            number += 1
            stem = f"{plain}-{number}"
        used.add(_folded(stem))
        found[name] = stem
    return found


def _plain(name: str) -> str:
    """Letters, digits and single hyphens of `name`; empty when it has no letter or digit."""
    kept = "".join(
        c if c.isalnum() or c == "_" else "-" for c in unicodedata.normalize("NFKC", name)
    )
    stem = "-".join(piece for piece in kept.split("-") if piece)
    while len(stem.encode()) > LONGEST_STEM:
        stem = stem[:-1]
    return f"{stem}-part" if stem.casefold() in DEVICES else stem


def _folded(stem: str) -> str:
    return unicodedata.normalize("NFKC", stem.casefold())
