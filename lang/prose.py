"""What do we say of a joint or a cut in our own words? Reads the files that hold them.

A file is `# Title`, what it is for, then `## Strengths` (joints alone), `## Limits` and
`## Not for`, each a list.
Figures that the kernel knows (defaults, sides, depths) stand in none of them: those are worked out.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from ..kernel.faults import InternalError

HEADINGS = ("Strengths", "Limits", "Not for")


@dataclass(frozen=True, slots=True, kw_only=True)
class Prose:
    """What a joint or cut is for, in paragraphs, and what to know of it, in items."""

    title: str
    purpose: tuple[str, ...]
    strengths: tuple[str, ...]
    limits: tuple[str, ...]
    not_for: tuple[str, ...]


def read_prose(text: str, name: str) -> Prose:
    """The parts of a file; InternalError, which tells its name, where it keeps not to its form."""
    head, *sections = re.split(r"^## ", text, flags=re.MULTILINE)
    title, _, purpose = head.partition("\n")
    lists = dict(section.split("\n", 1) for section in sections if "\n" in section)
    forms = (HEADINGS, HEADINGS[1:])
    if not title.startswith("# ") or tuple(lists) not in forms or not _paragraphs(purpose):
        raise InternalError(f"the page of {name} has not the form of its kind")
    strengths, limits, not_for = (_items(lists.get(heading, "")) for heading in HEADINGS)
    return Prose(
        title=title.removeprefix("# ").strip(),
        purpose=_paragraphs(purpose),
        strengths=strengths,
        limits=limits,
        not_for=not_for,
    )


def _paragraphs(text: str) -> tuple[str, ...]:
    return tuple(" ".join(part.split()) for part in text.split("\n\n") if part.strip())


def _items(text: str) -> tuple[str, ...]:
    """The items of a list, each on one line again."""
    found = re.split(r"^- ", text, flags=re.MULTILINE)[1:]
    return tuple(" ".join(item.split()) for item in found)
