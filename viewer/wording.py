"""How do a user's words, places and messages stand in JSON?"""

from __future__ import annotations

import json
from typing import TypeAlias

from ..kernel.finding import Place
from ..lang.render import Message, Pages, drawn

Json: TypeAlias = "dict[str, Json] | list[Json] | str | int | float | bool | None"


def text(word: str) -> str:
    """A user's word as JSON may hold it: half a surrogate pair is no character."""
    return word.encode("utf-8", "replace").decode()


def placed(place: Place | None, pages: Pages) -> Json:
    """File, line and column, counted from 1; None where the text is not at hand."""
    lines = None if place is None else pages.by_file.get(place.file)
    if place is None or lines is None:
        return None
    at = lines.position(place.start)
    return {"file": text(place.file), "line": at.line, "column": at.column}


def message(said: Message, pages: Pages) -> dict[str, Json]:
    """A message, and as `text` all of it as the terminal draws it."""
    return {
        "code": said.code,
        "severity": said.severity.value,
        "title": text(said.words.title),
        "label": text(said.words.label),
        "text": text(drawn(said, pages)),
        "place": placed(said.place, pages),
    }


def complaint(said: str) -> dict[str, Json]:
    """A message of the world outside the design, such as a file that cannot be read."""
    return {
        "code": None,
        "severity": "error",
        "title": text(said),
        "label": "",
        "text": text(f"dryfit: {said}"),
        "place": None,
    }


def encoded(document: Json) -> bytes:
    """The one spelling of a document, so that equal ones have equal bytes."""
    return json.dumps(document, ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode()
