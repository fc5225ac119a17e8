"""What do other programs get of a message: in which file it was found, which tests it fails?

`sarif.py` and `annotations.py` write these down; `check` makes one of every message, `test` one of
every message that stands against a test or the design around the tests.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from ..kernel.finding import Place
from .messages.summary import also_said
from .render import Message, Pages
from .report import FileReport
from .verdicts import Verdict

SETTING: Final = "--set "
"""What the names of texts begin with that are values set from outside, and no files."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """A message found in `file`; `tests` are the titles of the tests that it fails."""

    file: str
    message: Message
    pages: Pages
    tests: tuple[str, ...] = ()

    @property
    def sentences(self) -> tuple[str, ...]:
        """The title, the notes and the ways out, a sentence or more each."""
        words = self.message.words
        ways = (f"help: {help_.text}" for help_ in words.help)
        return (words.title, *words.notes, *also_said(self.message.also), *ways)


def is_setting(place: Place) -> bool:
    """Whether a place lies in a value set from outside."""
    return place.file.startswith(SETTING)


def results_of(report: FileReport) -> tuple[Result, ...]:
    """A result for each message of a file."""
    return tuple(
        Result(file=report.file, message=message, pages=report.pages) for message in report.messages
    )


def failed_results(file: str, pages: Pages, told: Iterable[Verdict]) -> tuple[Result, ...]:
    """A result for each message of the verdicts, once, however many tests it fails."""
    tests: list[tuple[Message, list[str]]] = []
    for verdict in told:
        for message in verdict.messages:
            known = next((titles for other, titles in tests if other == message), None)
            if known is None:
                tests.append((message, known := []))
            if verdict.name is not None:
                known.append(verdict.name)
    return tuple(
        Result(file=file, message=message, pages=pages, tests=tuple(titles))
        for message, titles in tests
    )
