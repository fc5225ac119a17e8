"""Does what a text describes go together? The stages in a row, as a pure function.

In comes a design's name, the files it is read from and the values set from outside; out comes
everything the stages learnt. This is a face of the language: it calls the kernel's stages. Nothing
is printed or written here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from ..kernel.design import Design
from ..kernel.finding import Finding, in_order
from ..kernel.kept import Kept
from ..kernel.plan import CutPlan
from .codes import Severity, severity_of
from .files import Files
from .limits import DEFAULT, Limits
from .render import Pages, messages_of
from .report import Checked, FileReport


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """What is to be looked at: a file, and what was set from outside."""

    file: str
    settings: Mapping[str, str] = field(default_factory=dict)
    limits: Limits = DEFAULT


@dataclass(frozen=True, slots=True, kw_only=True)
class Inspection:
    """What the stages gave, as far as they came; findings in order."""

    file: str
    findings: tuple[Finding, ...]
    pages: Pages
    design: Design | None = None
    plan: CutPlan | None = None

    @property
    def is_sound(self) -> bool:
        """Whether there is a plan and no error against it."""
        return self.plan is not None and not has_errors(self.findings)


Step = Callable[[str], object]
"""Told the name of each stage as it begins, for a sign of life."""


def designed(request: Request, files: Files, step: Step = lambda _: None) -> Inspection:
    """The design, with the findings of its text and values."""
    from .pipeline import design_from

    step("reading")
    read = design_from(request.file, files, request.settings, request.limits)
    return Inspection(
        file=request.file,
        findings=read.findings,
        pages=Pages({source.name: source.lines for source in read.sources}),
        design=read.value,
    )


def planned(
    request: Request, files: Files, step: Step = lambda _: None, kept: Kept | None = None
) -> Inspection:
    """The design and its cuts, with the findings of its boards and joins as well.

    `kept`, handed in again and again as a design changes, spares what did not change since; it is
    turned here.
    """
    first = designed(request, files, step)
    if first.design is None:
        return first
    from ..kernel.plan import cut_plan

    step("laying out the joints")
    if kept is not None:
        kept.turn()
    outcome = cut_plan(first.design, kept)
    return replace(first, findings=in_order(first.findings + outcome.findings), plan=outcome.value)


def inspected(
    request: Request, files: Files, step: Step = lambda _: None, kept: Kept | None = None
) -> Inspection:
    """The same and, where the text was understood whole, what checks of the cut boards found.

    A line that was not understood may be the very join that parts two boards: with errors in the
    text no check is made, so that one slip gives one message. `kept` is as in `planned`.
    """
    first = planned(request, files, step, kept)
    if first.plan is None or has_language_errors(first.findings):
        return first
    from ..kernel.checks import check

    step("cutting and checking the boards")
    return replace(first, findings=in_order(first.findings + check(first.plan, kept)))


def has_errors(findings: tuple[Finding, ...]) -> bool:
    return any(severity_of(finding) is Severity.ERROR for finding in findings)


def has_language_errors(findings: tuple[Finding, ...]) -> bool:
    """Whether an error is about the text itself: its syntax, names, values or size."""
    return has_errors(tuple(f for f in findings if f.code[:1] in "SNUL"))


def report_of(inspection: Inspection) -> FileReport:
    """The inspection in words."""
    return FileReport(
        file=inspection.file,
        messages=messages_of(inspection.findings),
        pages=inspection.pages,
        checked=_checked(inspection.file, inspection.plan),
    )


def _checked(file: str, plan: CutPlan | None) -> Checked | None:
    if plan is None:
        return None
    bits = [joint.bit for joint in plan.joints if joint.bit_chosen]
    bits += [shaped.bit for shaped in plan.shaped if shaped.bit_chosen]
    picked = Counter(bit for bit in bits if bit is not None)
    return Checked(
        file=file,
        boards=len(plan.boards),
        joints=len(plan.joints),
        cuts=len(plan.shaped),
        tests=len(plan.design.tests),
        motions=len(plan.design.motions),
        picked=tuple(picked.items()),
    )
