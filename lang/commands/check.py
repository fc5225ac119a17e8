"""`dryfit check`: do the parts, as they are really cut, go together?"""

from __future__ import annotations

import argparse

from ...kernel.faults import Fault
from ..codes import Severity
from ..columns import safe
from ..files import DiskFiles, rewrite
from ..fixes import fixed, fixes
from ..inspection import Request, inspected, report_of
from ..limits import Limits
from ..messages import summary
from ..render import drawn, one_line
from ..report import FileReport, as_json, count
from ..results import results_of
from ..terminal import Terminal
from ..version import VERSION
from .asked import request
from .written import say_annotations, say_sarif


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """0 when every file is clean, 1 with any finding, 2 when a file could not be read."""
    if arguments.vary:
        from .sweep import run as run_sweep

        return run_sweep(arguments, shown)
    _are_of_a_sweep(arguments)
    reports: list[FileReport] = []
    faults: list[str] = []
    for file in arguments.files:
        asked = request(arguments, file)
        try:
            report = _report(asked, shown)
            if arguments.fix and _mend(report, shown):
                report = _report(asked, shown)
        except Fault as fault:
            faults.append(str(fault))
            shown.complain(f"dryfit: {fault}")
            continue
        reports.append(report)
        _print(report, arguments.format, asked.limits, shown)
    _print_all(tuple(reports), faults, arguments.format, shown)
    if faults:
        return 2
    return 1 if any(report.messages for report in reports) else 0


def _are_of_a_sweep(arguments: argparse.Namespace) -> None:
    """A Fault for what only a sweep can be asked."""
    for option in ("workers", "timeout", "cluster", "yes"):
        if getattr(arguments, option):
            raise Fault(f"--{option} goes with --vary")


def _report(asked: Request, shown: Terminal) -> FileReport:
    """One file, looked at."""
    files = DiskFiles()
    with shown.busy(f"{asked.file}: reading") as step:
        return report_of(inspected(asked, files, lambda stage: step(f"{asked.file}: {stage}")))


def _mend(report: FileReport, shown: Terminal) -> bool:
    """Makes the edits that the messages offer in the design's own file, and tells them."""
    made = fixes(report.messages, report.file)
    if not made:
        return False
    page = report.pages.by_file[report.file]
    rewrite(report.file, page.text, fixed(page.text, made))
    for fix in made:
        line = page.position(fix.edit.place.start).line
        shown.complain(f"{safe(report.file)}:{line}: mended {fix.code}: {safe(fix.text)}")
    return True


def _print(report: FileReport, form: str, limits: Limits, shown: Terminal) -> None:
    match form:
        case "text":
            _print_drawn(report, limits.findings_shown, shown)
        case "line":
            for message in report.messages:
                shown.say(one_line(message, report.pages, report.file))


def _print_all(
    reports: tuple[FileReport, ...], faults: list[str], form: str, shown: Terminal
) -> None:
    """What is one document, however many files there are."""
    results = tuple(result for report in reports for result in results_of(report))
    match form:
        case "json":
            shown.say_exactly(as_json(reports, VERSION))
        case "sarif":
            say_sarif(tuple(report.file for report in reports), results, faults, shown)
        case "annotations":
            say_annotations(results, faults, shown)


def _print_drawn(report: FileReport, most: int, shown: Terminal) -> None:
    """Each message and a line for the file."""
    for message in report.messages[:most]:
        shown.say(drawn(message, report.pages, shown.out_has_colour) + "\n")
    if len(report.messages) > most:
        shown.say(f"… {summary.left_out(len(report.messages) - most)}\n")
    shown.say(f"{safe(report.file)}: {_verdict(report)}")


def _verdict(report: FileReport) -> str:
    if report.messages:
        return summary.totals(count(report, Severity.ERROR), count(report, Severity.WARNING))
    if report.checked is None:
        return summary.totals(0, 0)
    return summary.clean(report.checked)
