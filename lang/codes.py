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
    Code("B101", "kernel.findings.ThicknessMatchesNoSpan", ERROR, "no span of a board is its stock's thickness"),
    Code("B102", "kernel.findings.SpanNotPositive", ERROR, "a board has no extent along an axis"),
    Code("B103", "kernel.findings.NameTakenTwice", ERROR, "two boards, stocks, bits or joins have one name"),
    Code("B104", "kernel.findings.UnknownStock", ERROR, "a board is made of a stock nobody declared"),
    Code("B105", "kernel.findings.GrainThroughThickness", ERROR, "the grain is written through the board's thickness"),
    Code("B106", "kernel.findings.StockThicknessAmiss", ERROR, "a stock has no thickness or its delivered range runs backwards"),
    # J: joins and their options (kernel/findings.py)
    Code("J201", "kernel.findings.UnknownFamily", ERROR, "no joint has that name"),
    Code("J202", "kernel.findings.WrongVerb", ERROR, "a joint is written with another of to, into and across"),
    Code("J203", "kernel.findings.DoesNotReach", ERROR, "a board does not reach the board it is joined to"),
    Code("J204", "kernel.findings.UnknownOption", ERROR, "a joint has no such option"),
    Code("J205", "kernel.findings.OptionTwice", ERROR, "an option is given twice"),
    Code("J206", "kernel.findings.WrongKindOfValue", ERROR, "an option is given another kind of value"),
    Code("J207", "kernel.findings.ValueTooSmall", ERROR, "an option's value is too small"),
    Code("J208", "kernel.findings.OptionsContradict", ERROR, "two options decide the same figure"),
    Code("J209", "kernel.findings.UnknownChoice", ERROR, "an option does not know that word"),
    Code("J210", "kernel.findings.NotSquare", ERROR, "the boards of a joint meet at an angle"),
    Code("J211", "kernel.findings.ButtOverlaps", ERROR, "boards of a butt joint share wood"),
    Code("J212", "kernel.findings.UnknownBoard", ERROR, "a join names a board nobody declared"),
    Code("J213", "kernel.findings.NothingLeftUnder", ERROR, "a joint leaves no wood under the board"),
    Code("J214", "kernel.findings.NoWayIn", ERROR, "a joint lies inside the wood, out of reach of a cutter"),
    Code("J215", "kernel.findings.OpensAtEdge", ERROR, "a channel or mortise breaks out at an edge"),
    Code("J216", "kernel.findings.NoStepAtEdge", ERROR, "a rabbet does not lie along an edge"),
    Code("J217", "kernel.findings.LiesFlat", ERROR, "a board would enter its mate face first"),
    Code("J218", "kernel.findings.NoCorner", ERROR, "the boards of a corner joint form no corner"),
    Code("J219", "kernel.findings.StopsShort", ERROR, "a board of a corner joint ends inside its mate"),
    Code("J220", "kernel.findings.PinsMissTheWidth", ERROR, "a list of pins does not add up to the width"),
    Code("J221", "kernel.findings.NoTenonLeft", ERROR, "the shoulders leave no tenon"),
    Code("J222", "kernel.findings.RunsOut", ERROR, "a lengthened socket runs out of the board"),
    Code("J223", "kernel.findings.RoundoverMismatch", ERROR, "a roundover does not match the cutter's radius"),
    Code("J224", "kernel.findings.JoinedToItself", ERROR, "a board is joined to itself"),
    Code("J225", "kernel.findings.StopTakesAll", ERROR, "the stops leave nothing of a channel"),
    Code("J226", "kernel.findings.WrongSize", ERROR, "a part of a joint is larger than its board"),
    # C: cutter and machine (C1xx kernel/findings.py, others kernel/checks/findings.py)
    Code("C101", "kernel.findings.NoStraightBit", ERROR, "no straight bit is declared to cut a joint with"),
    Code("C102", "kernel.findings.SocketNarrowerThanBit", ERROR, "a socket is narrower than the bit"),
    Code("C103", "kernel.findings.UnknownBit", ERROR, "a joint names a bit nobody declared"),
    Code("C104", "kernel.findings.NamedBitOfWrongKind", ERROR, "a joint names a bit of the wrong kind"),
    Code("C105", "kernel.findings.NoCompanion", ERROR, "half_round finds no roundover of the cutter's radius"),
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
