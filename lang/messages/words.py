"""What does a message say? The records that a finding's words are made of.

A file per stage (`syntax.py`, `names.py`, …) maps each finding class to a function that gives its
`Words`. No drawing here: `render.py` draws words in full, on one line or as JSON.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...kernel.finding import Place


@dataclass(frozen=True, slots=True)
class Edit:
    """Replace the characters of `place` with `text`; an empty place inserts."""

    place: Place
    text: str


@dataclass(frozen=True, slots=True)
class Label:
    """A second place involved and what is to be seen there."""

    place: Place
    text: str


@dataclass(frozen=True, slots=True)
class Help:
    """A way out: a sentence, and the edit that does it where one edit can."""

    text: str
    edit: Edit | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A message in words: `title` stands alone, `label` stands under the finding's own place."""

    title: str
    label: str = ""
    others: tuple[Label, ...] = ()
    notes: tuple[str, ...] = ()
    help: tuple[Help, ...] = ()
