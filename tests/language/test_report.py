"""The JSON form of findings: described by its schema, and pinned whole."""

import json
from pathlib import Path

import dryfit.lang
import jsonschema
from dryfit.kernel.finding import Place
from dryfit.lang.codes import Severity
from dryfit.lang.messages.words import Edit, Help, Label, Words
from dryfit.lang.render import Message, Pages, pages_of
from dryfit.lang.report import Checked, FileReport, as_json

RACK = """\
design "Seed rack"
board shelf of ply12  x t..width-t  y 0..d  z 0..t
join shelf into left with dado
"""


def at(word: str, start: int = 0) -> Place:
    found = RACK.index(word, start)
    return Place("rack.dry", found, found + len(word))


def said(place: Place | None, words: Words) -> Message:
    return Message(code="J203", severity=Severity.ERROR, place=place, words=words)


def test_json_form_matches_its_description_and_never_changes_unseen() -> None:
    words = Words(
        title="t",
        label="ø",
        others=(Label(Place("gone.dry", 3, 4), "o"),),
        notes=("n",),
        help=(Help("h"), Help("g", Edit(at("dado"), "groove"))),
    )
    report = FileReport(
        file="rack.dry",
        messages=(said(at("shelf", 60), words), said(None, Words(title="u"))),
        pages=pages_of({"rack.dry": RACK}),
        checked=Checked(file="rack.dry", boards=2, joints=1, cuts=0, tests=0, picked=(("b6", 1),)),
    )
    text = as_json((report, FileReport(file="b", messages=(), pages=Pages({}))), "1.2.3")
    document = json.loads(text)
    folder = Path(next(iter(dryfit.lang.__path__)))
    jsonschema.validate(document, json.loads((folder / "findings.schema.json").read_text()))
    assert text.isascii()
    assert document == {
        "format": 1,
        "version": "1.2.3",
        "files": [
            {
                "file": "rack.dry",
                "checked": {
                    "boards": 2,
                    "joints": 1,
                    "cuts": 0,
                    "tests": 0,
                    "motions": 0,
                    "picked_bits": [{"bit": "b6", "times": 1}],
                },
                "findings": [
                    {
                        "code": "J203",
                        "severity": "error",
                        "title": "t",
                        "place": {
                            "file": "rack.dry",
                            "start": {"offset": 75, "line": 3, "column": 6},
                            "end": {"offset": 80, "line": 3, "column": 11},
                        },
                        "label": "ø",
                        "others": [
                            {
                                "place": {
                                    "file": "gone.dry",
                                    "start": {"offset": 3, "line": None, "column": None},
                                    "end": {"offset": 4, "line": None, "column": None},
                                },
                                "label": "o",
                            }
                        ],
                        "notes": ["n"],
                        "also": [],
                        "help": [
                            {"text": "h", "edit": None},
                            {
                                "text": "g",
                                "edit": {
                                    "place": {
                                        "file": "rack.dry",
                                        "start": {"offset": 96, "line": 3, "column": 27},
                                        "end": {"offset": 100, "line": 3, "column": 31},
                                    },
                                    "text": "groove",
                                },
                            },
                        ],
                    },
                    {
                        "code": "J203",
                        "severity": "error",
                        "title": "u",
                        "place": None,
                        "label": "",
                        "others": [],
                        "notes": [],
                        "also": [],
                        "help": [],
                    },
                ],
            },
            {"file": "b", "checked": None, "findings": []},
        ],
        "errors": 2,
        "warnings": 0,
    }
