"""Which of the edits that messages offer can be made in one go, and what does the text become?

Pure: messages and a text in, edits and a text out. Of the ways out a message offers, the first that
is an edit counts; of two edits that touch the same characters, the one told first.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from .messages.words import Edit
from .render import Message


@dataclass(frozen=True, slots=True)
class Fix:
    """An edit that mends what a message tells."""

    code: str
    text: str
    edit: Edit


def fixes(messages: Iterable[Message], file: str) -> tuple[Fix, ...]:
    """The edits to the text of `file` that do not touch each other, in the order of the text."""
    chosen: list[Fix] = []
    for message in messages:
        fix = _first(message)
        if fix is None or fix.edit.place.file != file:
            continue
        if not any(_touch(fix.edit, other.edit) for other in chosen):
            chosen.append(fix)
    return tuple(sorted(chosen, key=lambda fix: fix.edit.place))


def _first(message: Message) -> Fix | None:
    for help_ in message.words.help:
        if help_.edit is not None:
            return Fix(message.code, help_.text, help_.edit)
    return None


def _touch(one: Edit, other: Edit) -> bool:
    """Whether two edits share characters, or insert at one place."""
    if one.place.start == one.place.end or other.place.start == other.place.end:
        return one.place.start <= other.place.end and other.place.start <= one.place.end
    return one.place.start < other.place.end and other.place.start < one.place.end


def fixed(text: str, made: Iterable[Fix]) -> str:
    """The text with the edits made; their places count its characters.

    >>> from ..kernel.finding import Place
    >>> fixed("join a in b", [Fix("S112", "", Edit(Place("f", 7, 9), "into"))])
    'join a into b'
    """
    for fix in sorted(made, key=lambda fix: fix.edit.place, reverse=True):
        place = fix.edit.place
        text = text[: place.start] + fix.edit.text + text[place.end :]
    return text
