"""What does `--format sarif` print? The findings as a SARIF 2.1.0 log, which many editors and
review pages read.

Pure: results and the pages of codes in, text out. The standard is OASIS "Static Analysis Results
Interchange Format (SARIF) Version 2.1.0 Plus Errata 01"; numbers of sections in comments are its.
Columns count characters, as everywhere here: the log says so in `columnKind`. Files below the root
are named relative to `%SRCROOT%` and nothing in the log says where that is on the machine.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final, TypeAlias

from ..kernel.faults import InternalError
from ..kernel.finding import Place
from .codes import CODES, Code
from .lines import Lines
from .messages.words import Edit, Help, Label
from .results import Result, is_setting
from .roots import Root

SCHEMA: Final = (
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
)
SOURCE_ROOT: Final = "%SRCROOT%"

Object: TypeAlias = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Log:
    """What goes into a log: the files asked for that could be read, what was found in them, and
    in words what could not be read."""

    files: tuple[str, ...]
    results: tuple[Result, ...]
    faults: tuple[str, ...] = ()


def as_sarif(log: Log, root: Root, page: Callable[[Code], str], version: str) -> str:
    """The log as JSON, ASCII only, ending in a line end. Its rules are the codes of its results,
    in the order of the table, each with its `page` for help."""
    met = {result.message.code for result in log.results}
    rules = [entry for entry in CODES if entry.code in met]
    places = {entry.code: index for index, entry in enumerate(rules)}
    run = {
        "tool": {
            "driver": {
                "name": "Dryfit",
                "version": version,
                "rules": [rule(entry, page(entry)) for entry in rules],
            }
        },
        "invocations": [_invocation(log.faults)],
        "originalUriBaseIds": {
            SOURCE_ROOT: {"description": {"text": "The folder that dryfit was run in."}}
        },
        "artifacts": [
            {"location": _artifact(file, root), "roles": ["analysisTarget"]} for file in log.files
        ],
        # The standard's own default leaves out the lone carriage return (3.14.18).
        "newlineSequences": ["\r\n", "\n", "\r"],
        "columnKind": "unicodeCodePoints",
        "results": [_result(each, places[each.message.code], root) for each in log.results],
    }
    return json.dumps({"version": "2.1.0", "$schema": SCHEMA, "runs": [run]}, indent=2) + "\n"


def rule(entry: Code, page: str) -> Object:
    """A code as a rule. Its page is `# CODE: title`, a paragraph that says what it means, more."""
    title, _, rest = page.partition("\n\n")
    meaning = rest.partition("\n\n")[0]
    if not (title.startswith(f"# {entry.code}: ") and meaning):
        raise InternalError(f"the page of {entry.code} does not begin as pages do")
    # Help is left as it is, braces single: no argument ever comes with it, and what it shows
    # is meant to be copied.
    return {
        "id": entry.code,
        "shortDescription": {"text": _sentence(entry.summary)},
        "fullDescription": {"text": " ".join(meaning.split())},
        "defaultConfiguration": {"level": entry.severity.value},
        "help": {"text": _plain(page), "markdown": page},
    }


def _sentence(summary: str) -> str:
    return f"{summary[:1].upper()}{summary[1:]}."


def _plain(page: str) -> str:
    """The page without the signs that only mark headings and blocks."""
    kept = (line for line in page.splitlines() if not line.startswith("```"))
    return "\n".join(re.sub(r"^#+ ", "", line) for line in kept).strip() + "\n"


def _invocation(faults: tuple[str, ...]) -> Object:
    told = [{"level": "error", "message": _said(fault)} for fault in faults]
    return {"executionSuccessful": not faults, "toolExecutionNotifications": told}


def _result(result: Result, index: int, root: Root) -> Object:
    message, words = result.message, result.message.words
    found: Object = {
        "ruleId": message.code,
        "ruleIndex": index,
        "level": message.severity.value,
        "message": _said("\n".join(result.sentences)),
        "locations": [_location(result, root)],
    }
    related = [_related(other, result, root, at) for at, other in enumerate(words.others)]
    if related:
        found["relatedLocations"] = related
    fixes = [_fix(help_, help_.edit, result, root) for help_ in words.help if help_.edit]
    found |= {"fixes": [fix for fix in fixes if fix]} if any(fixes) else {}
    return found | ({"properties": {"tests": list(result.tests)}} if result.tests else {})


def _location(result: Result, root: Root) -> Object:
    """Where it is: a value set from outside and what has no place stand for the whole file."""
    place, label = result.message.place, result.message.words.label
    found: Object = {"physicalLocation": {"artifactLocation": _artifact(result.file, root)}}
    if place is not None:
        found = _at(place, result, root) or found | {
            "logicalLocations": [{"name": place.file, "kind": "parameter"}]
        }
    return found | ({"message": _said(label)} if label else {})


def _related(other: Label, result: Result, root: Root, number: int) -> Object:
    found = _at(other.place, result, root) or {"logicalLocations": [{"name": other.place.file}]}
    return {"id": number, **found, **({"message": _said(other.text)} if other.text else {})}


def _fix(help_: Help, edit: Edit, result: Result, root: Root) -> Object | None:
    """An edit as a fix; None where the text to edit is no file."""
    lines = _lines(edit.place, result)
    if lines is None:
        return None
    replacement = {
        "deletedRegion": region(edit.place, lines),
        "insertedContent": {"text": edit.text},
    }
    change = {
        "artifactLocation": _artifact(edit.place.file, root),
        "replacements": [replacement],
    }
    return {"description": _said(help_.text), "artifactChanges": [change]}


def _at(place: Place, result: Result, root: Root) -> Object | None:
    """A place in a file; None where it lies in no file."""
    lines = _lines(place, result)
    if lines is None:
        return None
    spot = {"artifactLocation": _artifact(place.file, root), "region": region(place, lines)}
    return {"physicalLocation": spot}


def _lines(place: Place, result: Result) -> Lines | None:
    """The text a place lies in, where that is a file's."""
    return None if is_setting(place) else result.pages.by_file.get(place.file)


def region(place: Place, lines: Lines) -> Object:
    """Lines and columns from 1, the end column just past the last character (3.30.7, 3.30.8);
    offsets from 0. A place with nothing in it is where something is to be put in (3.57.3)."""
    begin = max(0, min(place.start, len(lines.text)))
    end = max(begin, min(place.end, len(lines.text)))
    first, last = lines.position(begin), lines.position(end)
    return {
        "startLine": first.line,
        "startColumn": first.column,
        "endLine": last.line,
        "endColumn": last.column,
        "charOffset": begin,
        "charLength": end - begin,
    }


def _artifact(file: str, root: Root) -> Object:
    inside = root.inside(file)
    if inside is None:
        return {"uri": root.uri(file)}
    return {"uri": inside, "uriBaseId": SOURCE_ROOT}


def _said(text: str) -> Object:
    """A message of plain text: braces doubled, as single ones would ask for arguments (3.11.5), and
    no `](`, which would make a link (3.11.6)."""
    return {"text": text.replace("{", "{{").replace("}", "}}").replace("](", "] (")}
