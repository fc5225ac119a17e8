"""Which codes exist, what raises each, and how grave is it? The one table.

Loading this module loads no finding class: `finding` is a path below the package, such as
`kernel.findings.NoMeeting`, and `finding_class` follows it when asked. A code is never used for
anything else once it has been published: a retired one stays listed with an empty path.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from importlib import import_module

from ..kernel.faults import InternalError
from ..kernel.finding import Finding


class Severity(Enum):
    ERROR = "error"
    WARNING = "warning"


ERROR = Severity.ERROR
WARNING = Severity.WARNING


@dataclass(frozen=True, slots=True)
class Code:
    """One code. `summary` is a line for `explain --list`: lower case, no figures, no full stop."""

    code: str
    finding: str
    severity: Severity
    summary: str

    @property
    def is_retired(self) -> bool:
        return not self.finding


# One line a code, ordered by stage letter (S N U L B J C F T X) and number.
# fmt: off
CODES: tuple[Code, ...] = (
    # S: text and syntax (lang/findings.py)
    # N: names and `use` (lang/findings.py)
    # U: units and values (lang/findings.py)
    # L: limits (lang/findings.py)
    # B: boards and stock (kernel/findings.py)
    # J: joins and their options (kernel/findings.py)
    # C: cutter and machine (C1xx kernel/findings.py, others kernel/checks/findings.py)
    Code("C201", "kernel.checks.findings.DeeperThanFlute", ERROR, "a cut is deeper than its flute is long"),
    Code("C202", "kernel.checks.findings.DeeperThanReach", ERROR, "a cut is deeper than its bit can reach"),
    Code("C203", "kernel.checks.findings.WrongKindOfBit", ERROR, "a cut is made with a bit of the wrong kind"),
    Code("C204", "kernel.checks.findings.LargerThanSheet", ERROR, "a blank is larger than its sheet"),
    Code("C205", "kernel.checks.findings.LargerThanLumber", ERROR, "a blank is wider or longer than its lumber"),
    Code("C206", "kernel.checks.findings.BeyondTravel", ERROR, "a blank is beyond the travel of every machine"),
    # F: fit, overlap, wood left thin (kernel/checks/findings.py)
    Code("F101", "kernel.checks.findings.LeftoverWood", ERROR, "a round bit leaves wood where the mate must go"),
    Code("F102", "kernel.checks.findings.StillOverlap", ERROR, "joined boards still overlap once they are cut"),
    Code("F103", "kernel.checks.findings.UnresolvedOverlap", ERROR, "boards overlap and no join resolves it"),
    Code("F201", "kernel.checks.findings.FitTooTight", ERROR, "a part is larger than its socket"),
    Code("F202", "kernel.checks.findings.FitTooLoose", WARNING, "a part has too much play in its socket"),
    Code("F301", "kernel.checks.findings.ThinSkin", WARNING, "too little wood is left under a cut"),
    Code("F302", "kernel.checks.findings.ThinWall", WARNING, "too little wood is left beside a cut"),
    Code("F303", "kernel.checks.findings.ThinPin", WARNING, "a joint leaves a pin, tenon or tongue too thin"),
    # T: expectations (kernel/checks/findings.py)
    Code("T101", "kernel.checks.findings.ExpectationFailed", ERROR, "an expected figure does not hold"),
    Code("T102", "kernel.checks.findings.BoardsInterfere", ERROR, "no interference was expected and boards overlap"),
    Code("T103", "kernel.checks.findings.NothingToMeasure", ERROR, "a measure names a board that is not there"),
    Code("T104", "kernel.checks.findings.NoFitToMeasure", ERROR, "a fit is asked of boards that no joint fits together"),
    Code("T105", "kernel.checks.findings.UnknownMeasure", ERROR, "a measure or claim is not known or has the wrong boards"),
    Code("T106", "kernel.checks.findings.NotComparable", ERROR, "figures of different kinds are compared"),
    Code("T107", "kernel.checks.findings.DividedByZero", ERROR, "a figure is divided by 0"),
)
# fmt: on


def code_named(code: str) -> Code | None:
    """The entry of `code`, upper or lower case; None when there is no such code."""
    wanted = code.upper()
    return next((entry for entry in CODES if entry.code == wanted), None)


def severity_of(finding: Finding) -> Severity:
    """How grave a finding is; InternalError when its code is not in the table."""
    entry = code_named(finding.code)
    if entry is None:
        raise InternalError(f"the code {finding.code!r} is not in the table of codes")
    return entry.severity


def finding_class(entry: Code) -> type[Finding]:
    """The class that states this finding's facts, imported now; not for retired codes."""
    module, _, name = entry.finding.rpartition(".")
    if not module:
        raise InternalError(f"the code {entry.code} names no finding class")
    found = getattr(import_module(f"...{module}", __name__), name)
    if not (isinstance(found, type) and issubclass(found, Finding)):
        raise InternalError(f"{entry.finding} is not a finding class")
    return found
