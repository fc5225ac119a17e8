"""`dryfit test`: do the tests that stand in designs hold?"""

from __future__ import annotations

import argparse
import json

from ...kernel.faults import Fault
from ..columns import safe
from ..files import DiskFiles
from ..inspection import Inspection, inspected
from ..junit import as_junit
from ..messages import summary
from ..render import Message, drawn
from ..terminal import Terminal
from ..verdicts import Verdict, verdicts
from .asked import request


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """0 when every test and design holds, 1 when one does not, 2 when a file could not be read
    or no test at all has the title asked for."""
    tried: list[tuple[Inspection, tuple[Verdict, ...]]] = []
    faults = 0
    for file in arguments.files:
        asked = request(arguments, file)
        try:
            with shown.busy(f"{file}: testing") as step:
                found = inspected(asked, DiskFiles(), step)
        except Fault as fault:
            faults += 1
            shown.complain(f"dryfit: {fault}")
            continue
        tried.append((found, verdicts(found, lambda title: arguments.only in title)))
        if arguments.format == "text":
            _print(*tried[-1], shown)
    if arguments.format == "json":
        shown.say_exactly(_as_json(tried))
    elif arguments.format == "junit":
        pages = {found.file: found.pages for found, _ in tried}
        shown.say_exactly(
            as_junit(
                [(found.file, told) for found, told in tried],
                lambda file, message: drawn(message, pages[file]),
            )
        )
    if faults:
        return 2
    if arguments.only and not any(v.name is not None for _, told in tried for v in told):
        shown.complain(f"dryfit: {summary.no_such_test(safe(arguments.only))}")
        return 2
    return 0 if all(verdict.holds for _, told in tried for verdict in told) else 1


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


def _as_json(tried: list[tuple[Inspection, tuple[Verdict, ...]]]) -> str:
    """`files`: each with `file` and `tests`: each with `name` (null for the design itself),
    `holds`, `tried` and `findings`, each a `code` and a `title`."""
    files = [
        {
            "file": inspection.file,
            "tests": [
                {
                    "name": verdict.name,
                    "holds": verdict.holds,
                    "tried": verdict.was_tried,
                    "findings": [
                        {"code": message.code, "title": message.words.title}
                        for message in verdict.messages
                    ],
                }
                for verdict in told
            ],
        }
        for inspection, told in tried
    ]
    return json.dumps({"format": 1, "files": files}, indent=2) + "\n"
