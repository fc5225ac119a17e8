"""What is remembered while a design is worked out: its findings, its bounds, what was made so far.

A `Run` lives inside one call of `pipeline.design_from` and never leaves it.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass, field, replace
from typing import Final

from ..kernel.board import Board, Move
from ..kernel.cutter import Bit, Machine
from ..kernel.finding import Finding, Place
from ..kernel.stock import Stock
from . import syntax
from .limits import STACK_DEPTH, Limits
from .name_findings import MissingName, ToldOnce, UnknownAssembly, UnknownFunction, Where
from .names import Function, Pattern, Scope
from .value_findings import CallsTooDeep, TooMuchWork, WorkedTooDeep
from .values import Value

WORK_DEPTH: Final = STACK_DEPTH
"""How deep expressions and calls may stand in each other: each level takes up to four of Python's
own calls, of which there are a thousand."""


CALLED: Final = (UnknownFunction, UnknownAssembly)
"""What is missing among functions and assemblies, whose names are apart from those of values."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A piece being built: the whole design, or an assembly put down in it.

    `prefix` stands before the names of its boards, `moves` take its coordinates to the finished
    piece, `members` are its boards and what is placed in it, by plain name. `joins` holds where
    each join's name was given.
    """

    prefix: str = ""
    moves: tuple[Move, ...] = ()
    scope: Scope
    members: dict[str, Value] = field(default_factory=dict)
    joins: dict[str, Place] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What statements stand in. `turn_of` is the variable of the innermost loop around, `branch`
    says that an `if` is, `expectations` takes up those of a test."""

    where: Where
    frame: Frame
    turn_of: str | None = None
    branch: bool = False
    expectations: list[tuple[syntax.Expect, Scope]] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinToDo:
    """A join line met, to be resolved once every board is known."""

    line: syntax.JoinLine
    scope: Scope
    frame: Frame
    turn_of: str | None
    rehearsed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CutToDo:
    """A cut line met, to be resolved once every board is known."""

    line: syntax.CutLine
    scope: Scope
    frame: Frame
    turn_of: str | None
    rehearsed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MotionToDo:
    """A travel or swing line met, to be resolved once every board is known."""

    line: syntax.MotionLine
    scope: Scope
    frame: Frame
    rehearsed: bool


@dataclass(frozen=True, slots=True)
class TestToDo:
    """A test block met, to be resolved once every board is known."""

    __test__ = False

    block: syntax.TestBlock
    scope: Scope


@dataclass(slots=True, kw_only=True)
class Run:
    """One working-out of a design.

    `settings` are values set from outside; `taken` those that a param took up. `use` gives the
    scope of a used file, None where a finding told why there is none. `functions` and `patterns`
    are all that were met, by where they stand, `entered` those of them that something called,
    `endless` those whose calls went too deep: they are not called again. `bits_unsure` says that
    some bit could not be understood: joins are left out then, as a joint could only repeat that.
    `slips` are the places that the reading of the text has spoken about, `doubts` their offsets
    by file where what was read is but a guess; `passed` are names already found to be missing.

    While `rehearsing` is above 0, statements are gone through for their mistakes alone, with values
    that are not known: nothing is made of them. `spent` is set once a limit has been passed: what
    follows would speak about half a design, so nothing more is said.
    """

    limits: Limits
    settings: dict[str, syntax.Param] = field(default_factory=dict)
    use: Callable[[syntax.Use], Scope | None] = lambda _: None
    findings: list[Finding] = field(default_factory=list)
    stocks: list[Stock] = field(default_factory=list)
    bits: list[Bit] = field(default_factory=list)
    machines: list[Machine] = field(default_factory=list)
    boards: list[Board] = field(default_factory=list)
    joins: list[JoinToDo] = field(default_factory=list)
    cuts: list[CutToDo] = field(default_factory=list)
    motions: list[MotionToDo] = field(default_factory=list)
    tests: list[TestToDo] = field(default_factory=list)
    bits_unsure: bool = False
    patterns: dict[Place, Pattern] = field(default_factory=dict)
    functions: dict[Place, Function] = field(default_factory=dict)
    entered: set[Place] = field(default_factory=set)
    endless: set[Place] = field(default_factory=set)
    taken: set[str] = field(default_factory=set)
    slips: set[Place] = field(default_factory=set)
    doubts: dict[str, tuple[int, ...]] = field(default_factory=dict)
    passed: set[Place] = field(default_factory=set)
    title: syntax.DesignTitle | None = None
    rounds: int = 0
    evaluations: int = 0
    depth: int = 0
    calls: int = 0
    rehearsing: int = 0
    spent: bool = False
    _once: dict[tuple[str, Hashable], dict[Place, ToldOnce]] = field(default_factory=dict)
    _said: set[tuple[type[Finding], Place | None, str]] = field(default_factory=set)

    def report(self, finding: Finding) -> None:
        """Keep a finding; one of a sort at a place is enough, however often a loop comes by."""
        said = (type(finding), finding.place, getattr(finding, "name", ""))
        if self.spent or said in self._said:
            return
        self._said.add(said)
        self.findings.append(finding)

    def may_call(self, callee: syntax.Fn | syntax.Assembly, place: Place) -> bool:
        """Whether a function or assembly may be called at `place`, one deeper than now."""
        if callee.place in self.endless:
            return False
        if self.calls < self.limits.call_depth:
            return True
        self.endless.add(callee.place)
        limit, name = self.limits.call_depth, callee.name.text
        self.report(CallsTooDeep(place=place, name=name, limit=limit))
        return False

    def report_once(self, finding: ToldOnce, cause: Hashable) -> None:
        """Keep what one slip most likely explains wherever it is met: a name misspelt where it is
        declared is one slip, however often it is used. Of all places with the same `cause` the
        first is told, once everything has been gone through."""
        if not self.spent and finding.place is not None:
            key = (finding.place.file, cause)
            self._once.setdefault(key, {}).setdefault(finding.place, finding)

    def report_missing(self, finding: MissingName) -> None:
        """Keep what is said of a name that is missing, among values or among what is called."""
        sort = type(finding) if isinstance(finding, CALLED) else MissingName
        self.report_once(finding, (sort, finding.name))

    def close(self) -> None:
        """Report what is told once."""
        for found in self._once.values():
            self.findings.append(replace(found[min(found)], elsewhere=len(found) - 1))
        self._once.clear()

    def stop(self, finding: Finding) -> None:
        """Report that a limit is passed, and nothing from here on."""
        self.report(finding)
        self.spent = True

    def enter(self, place: Place) -> bool:
        """Whether one more expression may be worked out, one level deeper; `leave` it after."""
        self.depth += 1
        self.evaluations += 1
        if self.spent:
            return False
        if self.depth > WORK_DEPTH:
            self.stop(WorkedTooDeep(place=place, limit=WORK_DEPTH))
        elif self.evaluations > self.limits.evaluations:
            self.stop(TooMuchWork(place=place, limit=self.limits.evaluations))
        return not self.spent
