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


# One line a code, ordered by stage letter (S N U L B J C F A T X) and number.
# fmt: off
CODES: tuple[Code, ...] = (
    # S: text and syntax (lang/findings.py)
    Code("S001", "lang.findings.NotUtf8", ERROR, "a file is not UTF-8 text"),
    Code("S002", "lang.findings.NulCharacter", ERROR, "a file holds a byte 0 and is no text"),
    Code("S003", "lang.findings.NothingWritten", ERROR, "a file holds no statement"),
    Code("S101", "lang.findings.UnexpectedWord", ERROR, "a word or sign stands where it cannot"),
    Code("S102", "lang.findings.EndsTooSoon", ERROR, "a statement stops before it is complete"),
    Code("S103", "lang.findings.UnknownStatement", ERROR, "a line begins with no word of a statement"),
    Code("S104", "lang.findings.UnclosedText", ERROR, "a quotation mark is not closed on its line"),
    Code("S105", "lang.findings.Unclosed", ERROR, "a bracket or brace is never closed"),
    Code("S106", "lang.findings.StrayCloser", ERROR, "a bracket or brace closes nothing"),
    Code("S107", "lang.findings.StrayMark", ERROR, "a mark means nothing in the language"),
    Code("S108", "lang.findings.CurvedQuotes", ERROR, "words stand between other quotation marks"),
    Code("S109", "lang.findings.UnitApart", ERROR, "a unit stands apart from its number"),
    Code("S110", "lang.findings.CommaInNumber", ERROR, "a number has a comma for its point"),
    Code("S111", "lang.findings.ReservedName", ERROR, "a word of the language is used as a name"),
    Code("S112", "lang.findings.MissingWord", ERROR, "a word or sign is left out"),
    Code("S113", "lang.findings.Misspelt", ERROR, "a word inside a statement is misspelt"),
    Code("S114", "lang.findings.EqualsMixedUp", ERROR, "`=` and `==` are mixed up"),
    Code("S115", "lang.findings.OtherSign", ERROR, "a sign is written in another way here"),
    Code("S116", "lang.findings.OtherComment", ERROR, "a remark begins with another sign than `#`"),
    Code("S117", "lang.findings.BadNumber", ERROR, "a number is none"),
    Code("S118", "lang.findings.TwoOnALine", ERROR, "two statements stand on one line"),
    Code("S119", "lang.findings.ExtraWord", ERROR, "a word or sign is one too many"),
    Code("S120", "lang.findings.SpansAmiss", ERROR, "a board has not one span along each axis"),
    Code("S121", "lang.findings.ChainedComparison", ERROR, "three values are compared at a time"),
    Code("S122", "lang.findings.NoBlock", ERROR, "a block has no opening brace"),
    Code("S123", "lang.findings.ElseAlone", ERROR, "an `else` follows no `if`"),
    # N: names and `use` (lang/name_findings.py)
    Code("N101", "lang.name_findings.UnknownName", ERROR, "a name stands for nothing"),
    Code("N102", "lang.name_findings.DeclaredLater", ERROR, "a name is used above the line that declares it"),
    Code("N103", "lang.name_findings.DeclaredTwice", ERROR, "a name is given to two things"),
    Code("N104", "lang.name_findings.NeedsIndex", ERROR, "a loop declares the same name on every turn"),
    Code("N105", "lang.name_findings.UnknownStock", ERROR, "a board is of a stock that does not exist"),
    Code("N106", "lang.name_findings.UnknownFunction", ERROR, "a function does not exist"),
    Code("N107", "lang.name_findings.UnknownAssembly", ERROR, "an assembly does not exist"),
    Code("N108", "lang.name_findings.UnknownMember", ERROR, "a value has no part of that name"),
    Code("N109", "lang.name_findings.UnknownIndex", ERROR, "nothing was declared with that index"),
    Code("N110", "lang.name_findings.UnknownProperty", ERROR, "a stock, bit or machine has no such property"),
    Code("N111", "lang.name_findings.MissingProperty", ERROR, "a stock, bit or machine lacks a property it needs"),
    Code("N112", "lang.name_findings.PropertyTwice", ERROR, "a property is given twice or excludes another"),
    Code("N113", "lang.name_findings.UnknownArgument", ERROR, "a parameter of that name does not exist"),
    Code("N114", "lang.name_findings.ArgumentTwice", ERROR, "a parameter is given two values"),
    Code("N115", "lang.name_findings.MissingArguments", ERROR, "a parameter is given no value"),
    Code("N116", "lang.name_findings.TooManyArguments", ERROR, "more values are given than are taken"),
    Code("N117", "lang.name_findings.UnknownSetting", ERROR, "a value is set for a param that does not exist"),
    Code("N118", "lang.name_findings.UnknownKind", ERROR, "a kind of parameter does not exist"),
    Code("N119", "lang.name_findings.Misplaced", ERROR, "a statement stands where it cannot"),
    Code("N120", "lang.name_findings.UnknownClaim", ERROR, "a claim is not known"),
    Code("N121", "lang.name_findings.NameTaken", ERROR, "a function takes a name of the language's own"),
    Code("N122", "lang.name_findings.MeasureOutsideTest", ERROR, "a measured figure is asked for outside a test"),
    Code("N201", "lang.name_findings.UseNotFound", ERROR, "a used file is not there"),
    Code("N202", "lang.name_findings.UseRefused", ERROR, "a used path is out of bounds"),
    Code("N203", "lang.name_findings.UseCycle", ERROR, "a file uses itself"),
    # U: units and values (lang/value_findings.py)
    Code("U101", "lang.value_findings.UnknownUnit", ERROR, "a unit does not exist"),
    Code("U102", "lang.value_findings.MixedDimensions", ERROR, "measures of different dimensions are put together"),
    Code("U103", "lang.value_findings.WrongKind", ERROR, "a value is of another sort than is wanted"),
    Code("U104", "lang.value_findings.DividedByNought", ERROR, "something is divided by 0"),
    Code("U105", "lang.value_findings.NotWhole", ERROR, "a number must be whole and is not"),
    Code("U106", "lang.value_findings.OutOfBounds", ERROR, "a param lies outside its bounds"),
    Code("U107", "lang.value_findings.BackwardRange", ERROR, "bounds run backwards"),
    Code("U108", "lang.value_findings.EmptySpan", ERROR, "a board fills no space along an axis"),
    Code("U109", "lang.value_findings.NotPositive", ERROR, "a size is 0 or below"),
    Code("U110", "lang.value_findings.AxisTwice", ERROR, "an axis is given twice in one place"),
    Code("U111", "lang.value_findings.NoClaim", ERROR, "an expectation claims nothing"),
    Code("U112", "lang.value_findings.MeasuredLogic", ERROR, "a measured figure stands where none can"),
    Code("U113", "lang.value_findings.NotComparable", ERROR, "two values cannot be compared"),
    Code("U114", "lang.value_findings.NothingGiven", ERROR, "the least, greatest or sum of nothing is asked for"),
    Code("U115", "lang.value_findings.NotOneBoard", ERROR, "a measure is asked of several boards or of none"),
    Code("U116", "lang.value_findings.PropertyAmiss", ERROR, "a property is not written in its form"),
    # L: limits (L1xx lang/findings.py, L2xx lang/value_findings.py)
    Code("L101", "lang.findings.FileTooLarge", ERROR, "a file is too large"),
    Code("L102", "lang.findings.NestedTooDeep", ERROR, "a text is nested too deep"),
    Code("L103", "lang.findings.TooManyStatements", ERROR, "a file has too many statements"),
    Code("L104", "lang.findings.StatementTooLong", ERROR, "a statement is too long"),
    Code("L105", "lang.findings.NumberTooLong", ERROR, "a written number has too many digits"),
    Code("L106", "lang.findings.TooManyMistakes", ERROR, "a file has too many mistakes to go on"),
    Code("L201", "lang.value_findings.TooManyTurns", ERROR, "loops turn too often"),
    Code("L202", "lang.value_findings.TooManyBoards", ERROR, "a design has too many boards"),
    Code("L203", "lang.value_findings.CallsTooDeep", ERROR, "calls go too deep"),
    Code("L204", "lang.value_findings.TooMuchWork", ERROR, "there is too much to work out"),
    Code("L205", "lang.value_findings.TooFine", ERROR, "an exact value has too long a fraction"),
    Code("L206", "lang.value_findings.UseTooDeep", ERROR, "files use files too deep"),
    Code("L207", "lang.value_findings.TooManyFiles", ERROR, "a design uses too many files"),
    Code("L208", "lang.value_findings.TooLarge", ERROR, "a value is too large"),
    Code("L209", "lang.value_findings.WorkedTooDeep", ERROR, "expressions stand in each other too deep"),
    Code("L210", "lang.value_findings.TooManyItems", ERROR, "a list has too many items"),
    # B: boards and stock (kernel/findings.py)
    Code("B101", "kernel.findings.ThicknessMatchesNoSpan", ERROR, "no span of a board is its stock's thickness"),
    Code("B102", "kernel.findings.SpanNotPositive", ERROR, "a board has no extent along an axis"),
    Code("B103", "kernel.findings.NameTakenTwice", ERROR, "two boards, stocks, bits, joins or cuts have one name"),
    Code("B104", "kernel.findings.UnknownStock", ERROR, "a board is made of a stock nobody declared"),
    Code("B105", "kernel.findings.GrainThroughThickness", ERROR, "the grain is written through the board's thickness"),
    Code("B106", "kernel.findings.StockThicknessAmiss", ERROR, "a stock has no thickness or its delivered range runs backwards"),
    # B2xx: cuts that belong to one board (kernel/shaping_findings.py)
    Code("B201", "kernel.shaping_findings.UnknownCut", ERROR, "no cut has that name"),
    Code("B202", "kernel.shaping_findings.WrongSide", ERROR, "a cut cannot be made from that side or along that edge"),
    Code("B203", "kernel.shaping_findings.PlaceAmiss", ERROR, "a cut is not placed as it takes to be"),
    Code("B204", "kernel.shaping_findings.BreaksOut", ERROR, "a cut breaks out of its board"),
    Code("B205", "kernel.shaping_findings.DeeperThanBoard", ERROR, "a cut is deeper than its board"),
    Code("B206", "kernel.shaping_findings.TakesNothing", ERROR, "a cut lies beside its board"),
    Code("B207", "kernel.shaping_findings.FiguresClash", ERROR, "two figures of a cut do not go together"),
    # J: joins and their options (kernel/joint_findings.py)
    Code("J201", "kernel.joint_findings.UnknownFamily", ERROR, "no joint has that name"),
    Code("J202", "kernel.joint_findings.WrongVerb", ERROR, "a joint is written with another of to, into and across"),
    Code("J203", "kernel.joint_findings.DoesNotReach", ERROR, "a board does not reach the board it is joined to"),
    Code("J204", "kernel.joint_findings.UnknownOption", ERROR, "a joint has no such option"),
    Code("J205", "kernel.joint_findings.OptionTwice", ERROR, "an option is given twice"),
    Code("J206", "kernel.joint_findings.WrongKindOfValue", ERROR, "an option is given another kind of value"),
    Code("J207", "kernel.joint_findings.ValueTooSmall", ERROR, "an option's value is too small"),
    Code("J208", "kernel.joint_findings.OptionsContradict", ERROR, "two options decide the same figure"),
    Code("J209", "kernel.joint_findings.UnknownChoice", ERROR, "an option does not know that word"),
    Code("J210", "kernel.joint_findings.NotSquare", ERROR, "the boards of a joint meet at an angle"),
    Code("J211", "kernel.joint_findings.ButtOverlaps", ERROR, "boards of a butt joint share wood"),
    Code("J212", "kernel.joint_findings.UnknownBoard", ERROR, "a join names a board nobody declared"),
    Code("J213", "kernel.joint_findings.NothingLeftUnder", ERROR, "a joint leaves no wood under the board"),
    Code("J214", "kernel.joint_findings.NoWayIn", ERROR, "a joint lies inside the wood, out of reach of a cutter"),
    Code("J215", "kernel.joint_findings.OpensAtEdge", ERROR, "a channel or mortise breaks out at an edge"),
    Code("J216", "kernel.joint_findings.NoStepAtEdge", ERROR, "a rabbet does not lie along an edge"),
    Code("J217", "kernel.joint_findings.LiesFlat", ERROR, "a board would enter its mate face first"),
    Code("J218", "kernel.joint_findings.NoCorner", ERROR, "the boards of a corner joint form no corner"),
    Code("J219", "kernel.joint_findings.StopsShort", ERROR, "a board of a corner joint ends inside its mate"),
    Code("J220", "kernel.joint_findings.PinsMissTheWidth", ERROR, "a list of pins does not add up to the width"),
    Code("J221", "kernel.joint_findings.NoTenonLeft", ERROR, "the shoulders leave no tenon"),
    Code("J222", "kernel.joint_findings.RunsOut", ERROR, "a lengthened socket runs out of the board"),
    Code("J223", "kernel.joint_findings.RoundoverMismatch", ERROR, "a roundover does not match the cutter's radius"),
    Code("J224", "kernel.joint_findings.JoinedToItself", ERROR, "a board is joined to itself"),
    Code("J225", "kernel.joint_findings.StopTakesAll", ERROR, "the stops leave nothing of a channel"),
    Code("J226", "kernel.joint_findings.WrongSize", ERROR, "a part of a joint is larger than its board"),
    # J24x: box, blind box and step joints, drawer locks (kernel/corner_findings.py)
    Code("J241", "kernel.corner_findings.SliverPin", WARNING, "a pin is a sliver that splits"),
    Code("J242", "kernel.corner_findings.EvenPins", ERROR, "an even count of pins is to be symmetric"),
    Code("J243", "kernel.corner_findings.SkinTooThick", ERROR, "a skin over fingers is as thick as its board"),
    Code("J244", "kernel.corner_findings.StepsCrowd", ERROR, "the steps of a step joint are too narrow to cut"),
    Code("J245", "kernel.corner_findings.PegPastPin", ERROR, "a recess for a square peg does not stay in its pin"),
    Code("J246", "kernel.corner_findings.NoLip", ERROR, "a drawer's side leaves its front no lip"),
    # J26x, J27x: laps, bridles, mitres, dovetails, dowels, puzzles (kernel/crossing_findings.py)
    Code("J261", "kernel.crossing_findings.LiesOtherwise", ERROR, "boards lie as another joint wants them"),
    Code("J262", "kernel.crossing_findings.LeavesNoWood", ERROR, "a lap is as deep as its board"),
    Code("J263", "kernel.crossing_findings.NoEndToFork", ERROR, "a bridle's forked board does not end at its mate"),
    Code("J264", "kernel.crossing_findings.DovetailTooDeep", ERROR, "a sliding dovetail is too deep for its bit or its board"),
    Code("J265", "kernel.crossing_findings.BoreBreaksOut", ERROR, "a hole for a dowel or bolt breaks out of its board"),
    Code("J266", "kernel.crossing_findings.PiecesCrowd", ERROR, "dowels or knobs stand too close"),
    Code("J267", "kernel.crossing_findings.NoOpenEnd", ERROR, "a sliding dovetail has no end to slide in by"),
    Code("J268", "kernel.crossing_findings.BitMissesMitre", ERROR, "a v bit does not suit its mitre"),
    Code("J269", "kernel.crossing_findings.SlotBreaksOut", ERROR, "a mitre's spline leaves no skin"),
    Code("J270", "kernel.crossing_findings.StandsProud", ERROR, "a mitred board goes on past its mate"),
    Code("J271", "kernel.crossing_findings.NotEndToEnd", ERROR, "boards of a puzzle joint are not flush end to end"),
    # J28x: tongues and tenons (kernel/tenon_findings.py)
    Code("J281", "kernel.tenon_findings.ShortLip", WARNING, "a short-grained lip beside a groove is thin"),
    Code("J282", "kernel.tenon_findings.TiltNotFlat", ERROR, "a board leans so that no straight cut makes its tenon"),
    Code("J283", "kernel.tenon_findings.LeansTooFar", ERROR, "a board leans too far to leave a tenon"),
    Code("J284", "kernel.tenon_findings.NotWhereItLeans", ERROR, "a leaning tenon cannot be cut with an option"),
    Code("J285", "kernel.tenon_findings.HaunchAmiss", ERROR, "a haunch has no shoulder or goes as deep as its tenon"),
    Code("J286", "kernel.tenon_findings.WedgesNeedThrough", ERROR, "wedges are asked for where no tenon comes through"),
    Code("J287", "kernel.tenon_findings.WedgesSplit", WARNING, "wedges spread a tenon across the grain of its mate"),
    Code("J288", "kernel.tenon_findings.PegMissesTenon", ERROR, "a peg has no room in its tenon"),
    # C: cutter and machine (C1xx kernel/findings.py, others kernel/checks/findings.py)
    Code("C101", "kernel.findings.NoStraightBit", ERROR, "no straight bit is declared to cut a joint with"),
    Code("C102", "kernel.findings.SocketNarrowerThanBit", ERROR, "a socket is narrower than the bit"),
    Code("C103", "kernel.findings.UnknownBit", ERROR, "a joint names a bit nobody declared"),
    Code("C104", "kernel.findings.NamedBitOfWrongKind", ERROR, "a joint names a bit of the wrong kind"),
    Code("C105", "kernel.findings.NoCompanion", ERROR, "half_round finds no roundover of the cutter's radius"),
    Code("C106", "kernel.findings.NoRoomToSweep", WARNING, "a swept relief has no room and is made round instead"),
    Code("C107", "kernel.findings.NoBitOfKind", ERROR, "no bit of the kind a joint needs is declared"),
    Code("C201", "kernel.checks.findings.DeeperThanFlute", ERROR, "a cut is deeper than its flute is long"),
    Code("C202", "kernel.checks.findings.DeeperThanReach", ERROR, "a cut is deeper than its bit can reach"),
    Code("C203", "kernel.checks.findings.LargerThanSheet", ERROR, "a blank is larger than its sheet"),
    Code("C204", "kernel.checks.findings.LargerThanLumber", ERROR, "a blank is wider or longer than its lumber"),
    Code("C205", "kernel.checks.findings.BeyondTravel", ERROR, "a blank is beyond the travel of every machine"),
    # F: fit, overlap, wood left thin (kernel/checks/findings.py)
    Code("F101", "kernel.checks.findings.LeftoverWood", ERROR, "a round bit leaves wood where the mate must go"),
    Code("F102", "kernel.checks.findings.UnresolvedOverlap", ERROR, "boards overlap and no join resolves it"),
    Code("F201", "kernel.checks.findings.FitTooTight", ERROR, "a part is larger than its socket"),
    Code("F202", "kernel.checks.findings.FitTooLoose", WARNING, "a part has too much play in its socket"),
    Code("F301", "kernel.checks.findings.ThinSkin", WARNING, "too little wood is left under a cut"),
    Code("F302", "kernel.checks.findings.ThinWall", WARNING, "too little wood is left beside a cut"),
    Code("F303", "kernel.checks.findings.ThinPin", WARNING, "a joint leaves a pin, tenon or tongue too thin"),
    Code("F304", "kernel.checks.findings.HitsJoint", WARNING, "a cut takes wood that a joint holds by"),
    # A: parts that go together, and move once they are (kernel/checks/assembly_findings.py)
    Code("A101", "kernel.checks.assembly_findings.NoWayHome", ERROR, "no straight way brings a part into its mate"),
    Code("A102", "kernel.checks.assembly_findings.MotionBlocked", ERROR, "what is to move runs into something"),
    Code("A201", "kernel.checks.assembly_findings.NoOrder", ERROR, "boards lock each other: no straight move parts them"),
    # T: expectations (kernel/checks/findings.py)
    Code("T101", "kernel.checks.expect_findings.ExpectationFailed", ERROR, "an expected figure does not hold"),
    Code("T102", "kernel.checks.expect_findings.NothingToMeasure", ERROR, "a measure names a board that is not there"),
    Code("T103", "kernel.checks.expect_findings.NoFitToMeasure", ERROR, "a fit is asked of boards that no joint fits together"),
    Code("T104", "kernel.checks.expect_findings.UnknownMeasure", ERROR, "a measure or claim is not known or has the wrong boards"),
    Code("T105", "kernel.checks.expect_findings.NotComparable", ERROR, "figures of different kinds are compared"),
    Code("T106", "kernel.checks.expect_findings.DividedByZero", ERROR, "a figure is divided by 0"),
    Code("T107", "kernel.checks.expect_findings.NoSuchJoint", ERROR, "a measure names a joint that is not there"),
    Code("T108", "kernel.checks.expect_findings.UnknownWood", ERROR, "a mass is asked of wood whose density is not known"),
    Code("T109", "kernel.checks.expect_findings.NothingBetween", ERROR, "a gap is asked of boards that do not look at each other"),
    Code("T110", "kernel.checks.expect_findings.TooLargeForMachine", ERROR, "a board does not fit the machine it is claimed to"),
    Code("T111", "kernel.checks.expect_findings.NothingMoves", ERROR, "what is claimed to travel is moved by no line"),
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
