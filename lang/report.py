"""What does `--format json` print? The findings for other programs.

The form, and those of `dryfit test` and of a sweep, are described in `findings.schema.json` beside
this module. They are stable: fields may be added, none is renamed, moved or given another meaning
without a new `format` number.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any, Final

from ..kernel.finding import Place
from .codes import Severity
from .messages.words import Help, Label
from .render import Message, Pages

FORMAT: Final = 1
"""The number of the form, raised when a field changes its meaning."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What was looked at in one file. `cuts` are those of single boards, one a board; `picked` is
    (bit, how many joints and cuts named none and are made with it)."""

    file: str
    boards: int
    joints: int
    cuts: int
    tests: int
    motions: int = 0
    picked: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FileReport:
    """One file's messages, and what was checked, None where the design could not be made out."""

    file: str
    messages: tuple[Message, ...]
    pages: Pages
    checked: Checked | None = None


def as_json(reports: tuple[FileReport, ...], version: str) -> str:
    """The reports as one JSON document, ASCII only, ending in a line end."""
    document = {
        "format": FORMAT,
        "version": version,
        "files": [_file(report) for report in reports],
        "errors": sum(count(report, Severity.ERROR) for report in reports),
        "warnings": sum(count(report, Severity.WARNING) for report in reports),
    }
    return json.dumps(document, indent=2) + "\n"


def count(report: FileReport, severity: Severity) -> int:
    """How many messages of a file are of one severity."""
    return sum(message.severity is severity for message in report.messages)


def _file(report: FileReport) -> dict[str, Any]:
    checked = report.checked
    return {
        "file": report.file,
        "checked": None
        if checked is None
        else {
            "boards": checked.boards,
            "joints": checked.joints,
            "cuts": checked.cuts,
            "tests": checked.tests,
            "motions": checked.motions,
            "picked_bits": [{"bit": bit, "times": times} for bit, times in checked.picked],
        },
        "findings": [message_form(message, report.pages) for message in report.messages],
    }


def message_form(message: Message, pages: Pages) -> dict[str, Any]:
    """A message as an object of the schema's `finding`."""
    said = message.words
    return {
        "code": message.code,
        "severity": message.severity.value,
        "title": said.title,
        "place": _place(message.place, pages),
        "label": said.label,
        "others": [_label(label, pages) for label in said.others],
        "notes": list(said.notes),
        "also": list(message.also),
        "help": [_help(help_, pages) for help_ in said.help],
    }


def _label(label: Label, pages: Pages) -> dict[str, Any]:
    return {"place": _place(label.place, pages), "label": label.text}


def _help(help_: Help, pages: Pages) -> dict[str, Any]:
    edit = help_.edit
    if edit is None:
        return {"text": help_.text, "edit": None}
    return {"text": help_.text, "edit": {"place": _place(edit.place, pages), "text": edit.text}}


def _place(place: Place | None, pages: Pages) -> dict[str, Any] | None:
    """Where it points: offsets always, line and column where the text is at hand."""
    if place is None:
        return None
    return {
        "file": place.file,
        "start": _position(place.file, place.start, pages),
        "end": _position(place.file, place.end, pages),
    }


def _position(file: str, offset: int, pages: Pages) -> dict[str, int | None]:
    lines = pages.by_file.get(file)
    if lines is None:
        return {"offset": offset, "line": None, "column": None}
    at = lines.position(offset)
    return {"offset": offset, "line": at.line, "column": at.column}
