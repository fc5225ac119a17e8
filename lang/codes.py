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
    # F: fit, overlap, wood left thin (kernel/checks/findings.py)
    # T: expectations (kernel/checks/findings.py)
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
