"""`dryfit test`: do the tests that stand in designs hold?"""

from __future__ import annotations

import argparse
import json
from typing import TypeAlias

from ...kernel.faults import Fault
from ..columns import safe
from ..files import DiskFiles
from ..inspection import Inspection, inspected
from ..junit import as_junit
from ..messages import summary
from ..render import Message, drawn
from ..report import FORMAT, message_form
from ..results import failed_results
from ..terminal import Terminal
from ..verdicts import Verdict, verdicts
from ..version import VERSION
from .asked import request
from .written import say_annotations, say_sarif

Tried: TypeAlias = tuple[Inspection, tuple[Verdict, ...]]


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """0 when every test and design holds, 1 when one does not, 2 when a file could not be read
    or no test at all has the title asked for."""
    tried: list[Tried] = []
    faults: list[str] = []
    for file in arguments.files:
        asked = request(arguments, file)
        try:
            with shown.busy(f"{file}: testing") as step:
                found = inspected(asked, DiskFiles(), step)
        except Fault as fault:
            faults.append(str(fault))
            shown.complain(f"dryfit: {fault}")
            continue
        tried.append((found, verdicts(found, lambda title: arguments.only in title)))
        if arguments.format == "text":
            _print(*tried[-1], shown)
    _print_all(tried, faults, arguments.format, shown)
    if faults:
        return 2
    if arguments.only and not any(v.name is not None for _, told in tried for v in told):
        shown.complain(f"dryfit: {summary.no_such_test(safe(arguments.only))}")
        return 2
    return 0 if all(verdict.holds for _, told in tried for verdict in told) else 1


def _print_all(tried: list[Tried], faults: list[str], form: str, shown: Terminal) -> None:
    """What is one document, however many files there are."""
    results = tuple(
        result for found, told in tried for result in failed_results(found.file, found.pages, told)
    )
    match form:
        case "json":
            shown.say_exactly(_as_json(tried))
        case "junit":
            pages = {found.file: found.pages for found, _ in tried}
            shown.say_exactly(
                as_junit(
                    [(found.file, told) for found, told in tried],
                    lambda file, message: drawn(message, pages[file]),
                )
            )
        case "sarif":
            say_sarif(tuple(found.file for found, _ in tried), results, faults, shown)
        case "annotations":
            say_annotations(results, faults, shown)


def _print(inspection: Inspection, told: tuple[Verdict, ...], shown: Terminal) -> None:
    """What fails, each message once, and a line for the file."""
    seen: list[Message] = []
    for verdict in told:
        for message in verdict.messages:
            if message not in seen:
                seen.append(message)
                shown.say(drawn(message, inspection.pages, shown.out_has_colour) + "\n")
    tests = [verdict for verdict in told if verdict.name is not None]
    failed = [verdict for verdict in tests if not verdict.holds]
    for verdict in failed:
        shown.say(summary.failed_test(safe(inspection.file), safe(verdict.name or "")))
    shown.say(f"{safe(inspection.file)}: {summary.tests(len(tests), len(failed), told[0].holds)}")


def _as_json(tried: list[Tried]) -> str:
    """A `tested_files` of `findings.schema.json`."""
    files = [
        {
            "file": inspection.file,
            "tests": [
                {
                    "name": verdict.name,
                    "holds": verdict.holds,
                    "tried": verdict.was_tried,
                    "findings": [
                        message_form(message, inspection.pages) for message in verdict.messages
                    ],
                }
                for verdict in told
            ],
        }
        for inspection, told in tried
    ]
    return json.dumps({"format": FORMAT, "version": VERSION, "files": files}, indent=2) + "\n"
