"""Which variants of a design go together? Each is checked by itself, by whatever executor.

`swept` hands variants to any `concurrent.futures.Executor`, a few ahead of those that work, and
keeps a number a variant: what a family of a million costs in memory is those numbers. Outcomes come
in any order and are told in the order of the family, so that they are the same for any number of
workers. What goes wrong with one variant, its worker killed included, is that variant's outcome.
"""

from __future__ import annotations

from array import array
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import (
    FIRST_COMPLETED,
    BrokenExecutor,
    CancelledError,
    Executor,
    Future,
    wait,
)
from dataclasses import dataclass, field
from enum import Enum
from itertools import islice
from typing import Any, Final, ParamSpec, TypeVar

from ..kernel.faults import Fault
from .family import Family
from .files import DiskFiles, Files, Read, Tree
from .inspection import Request, inspected, report_of
from .limits import DEFAULT, Limits
from .name_findings import Escape
from .render import Message

CLUSTER: Final = "distributed"
"""The package whose exceptions tell of a cluster's workers; it need not be there."""

P = ParamSpec("P")
T = TypeVar("T")


class Kind(Enum):
    """How a variant came out."""

    PASSES = "passes"
    FINDINGS = "findings"
    DIED = "died"
    """Its worker ended before it was checked: it was killed, or crashed."""
    MEMORY = "memory"
    TIMEOUT = "timeout"
    UNREADABLE = "unreadable"
    FAULT = "fault"
    """Dryfit itself failed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What came of one variant. `codes` are those found, by their first place, each with the number
    of its findings; `error` is the kind of a fault; `said` is the first title, or the fault."""

    kind: Kind
    codes: tuple[tuple[str, int], ...] = ()
    error: str = ""
    said: str = ""

    @property
    def likeness(self) -> tuple[Kind, tuple[tuple[str, int], ...], str]:
        """What outcomes must share to be told as one: figures in what is said may differ."""
        return (self.kind, self.codes, self.error)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """An outcome, how many variants had its like, and which was the first: `outcome` is its."""

    outcome: Outcome
    count: int
    first: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Swept:
    """A sweep that is over, or was cut short: `marks` holds for each variant which of `tallies` it
    is counted in, from 1, and 0 for one that was not tried. `tallies` are in order of `first`."""

    family: Family
    marks: array[int]
    tallies: tuple[Tally, ...]
    interrupted: bool = False

    @property
    def tried(self) -> int:
        return sum(tally.count for tally in self.tallies)

    @property
    def passing(self) -> int:
        return sum(t.count for t in self.tallies if t.outcome.kind is Kind.PASSES)

    @property
    def all_pass(self) -> bool:
        return self.passing == self.family.size


class TookTooLong(Exception):
    """A worker was given up and ended."""


class Lost(Exception):
    """A worker ended before it answered."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """The work of a sweep, for any process: what to check, and the files it is read from."""

    file: str
    files: Files
    settings: Mapping[str, str] = field(default_factory=dict)
    limits: Limits = DEFAULT

    def __call__(self, varied: Mapping[str, str]) -> Outcome:
        """The outcome of the variant with these values; never raises but for an interruption."""
        asked = Request(file=self.file, settings={**self.settings, **varied}, limits=self.limits)
        try:
            messages = report_of(inspected(asked, self.files)).messages
        except MemoryError:
            return Outcome(kind=Kind.MEMORY)
        except Fault as fault:
            return Outcome(kind=Kind.UNREADABLE, said=str(fault))
        except Exception as error:
            return _fault(error)
        return _told(messages)


def _told(messages: tuple[Message, ...]) -> Outcome:
    if not messages:
        return Outcome(kind=Kind.PASSES)
    times: dict[str, int] = {}
    for message in messages:
        times[message.code] = times.get(message.code, 0) + 1 + len(message.also)
    title = " ".join(messages[0].words.title.split("\n"))
    return Outcome(kind=Kind.FINDINGS, codes=tuple(times.items()), said=title)


def _fault(error: BaseException) -> Outcome:
    what = type(error).__name__
    said = " ".join(f"{what}: {error}".split())[:300]
    return Outcome(kind=Kind.FAULT, error=what, said=said)


def swept(
    family: Family,
    work: Callable[[Mapping[str, str]], Outcome],
    executor: Executor,
    ahead: int = 1,
    done: Callable[[int, int], object] = lambda *_: None,
) -> Swept:
    """Every variant of the family, `ahead` of them handed out at a time; `done` is told how many
    are done and how many of them pass.

    KeyboardInterrupt ends it, and so does an executor that breaks: what was done until then counts,
    the other variants are not tried. Executors that say of all a dead worker had at hand that it
    died are asked for those again, one at a time, so that the blame falls on the right one.
    """
    going = _Going(family, work, executor, done)
    cut_short = False
    try:
        going.through(iter(range(family.size)), ahead)
        going.through(iter(tuple(going.doubted)), 1)
    except (KeyboardInterrupt, BrokenExecutor):
        cut_short = True
        going.settle(*(future for future in going.waiting if future.done()))
    for index, outcome in going.doubted.items():
        going.counts.add(index, outcome)
    return going.counts.over(family, cut_short)


class _Going:
    """A sweep under way: variants handed out by their futures, and outcomes that are not sure."""

    def __init__(
        self,
        family: Family,
        work: Callable[[Mapping[str, str]], Outcome],
        executor: Executor,
        done: Callable[[int, int], object],
    ) -> None:
        self.family, self.work, self.executor, self.done = family, work, executor, done
        self.counts = _Counts(family.size)
        self.waiting: dict[Future[Outcome], int] = {}
        self.doubted: dict[int, Outcome] = {}

    def through(self, numbers: Iterator[int], most: int) -> None:
        """Tries these variants, `most` at a time."""
        while True:
            for index in islice(numbers, most - len(self.waiting)):
                future = self.executor.submit(self.work, self.family.settings(index))
                self.waiting[future] = index
            if not self.waiting:
                return
            self.settle(*wait(self.waiting, return_when=FIRST_COMPLETED).done, alone=most == 1)
            self.done(self.counts.tried, self.counts.passing)

    def settle(self, *futures: Future[Outcome], alone: bool = False) -> None:
        """Takes up what futures that are done came to; `alone` says that nothing else was at hand,
        so that there is nothing to doubt."""
        for future in futures:
            index = self.waiting[future]
            outcome, sure = outcome_of(future)
            if outcome is not None and not (sure or alone):
                self.doubted[index] = outcome
            else:
                self.counts.add(index, outcome)
            del self.waiting[future]


def outcome_of(future: Future[Outcome]) -> tuple[Outcome | None, bool]:
    """What a future that is done came to, None for one that was taken back; and whether that is
    sure, or only its worker's end, which any task at hand there may have brought about."""
    try:
        return future.result(), True
    except CancelledError:
        return None, True
    except TookTooLong:
        return Outcome(kind=Kind.TIMEOUT), True
    except MemoryError:
        return Outcome(kind=Kind.MEMORY), True
    except Lost as error:
        return Outcome(kind=Kind.DIED, said=str(error)), True
    except BrokenExecutor as error:
        return Outcome(kind=Kind.DIED, said=str(error)), False
    except Exception as error:
        if type(error).__module__.partition(".")[0] == CLUSTER:
            return Outcome(kind=Kind.DIED, said=type(error).__name__), False
        return _fault(error), True


class _Counts:
    """The outcomes so far."""

    def __init__(self, size: int) -> None:
        self._marks = array("I", bytes(4 * size))
        self._numbers: dict[object, int] = {}
        self._tallies: list[Tally] = []
        self.tried = 0
        self.passing = 0

    def add(self, index: int, outcome: Outcome | None) -> None:
        if outcome is None or self._marks[index]:
            return
        number = self._numbers.setdefault(outcome.likeness, len(self._tallies) + 1)
        if number > len(self._tallies):
            self._tallies.append(Tally(outcome=outcome, count=0, first=index))
        known = self._tallies[number - 1]
        first = min(known, Tally(outcome=outcome, count=0, first=index), key=lambda t: t.first)
        self._tallies[number - 1] = Tally(
            outcome=first.outcome, count=known.count + 1, first=first.first
        )
        self._marks[index] = number
        self.tried += 1
        self.passing += outcome.kind is Kind.PASSES

    def over(self, family: Family, interrupted: bool) -> Swept:
        """The same with tallies in order of their first variants."""
        order = sorted(range(len(self._tallies)), key=lambda i: self._tallies[i].first)
        renamed = [0] * (len(order) + 1)
        for place, number in enumerate(order):
            renamed[number + 1] = place + 1
        marks = array("I", (renamed[mark] for mark in self._marks))
        tallies = tuple(self._tallies[number] for number in order)
        return Swept(family=family, marks=marks, tallies=tallies, interrupted=interrupted)


class InProcess(Executor):
    """Works in the process that asks, at once."""

    def submit(self, fn: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        future: Future[T] = Future()
        try:
            future.set_result(fn(*args, **kwargs))
        except Exception as error:
            future.set_exception(error)
        return future


@dataclass(slots=True)
class Noting:
    """The files of the disk, each answer noted so that other processes can do without the disk, and
    a file that changes meanwhile changes no variant."""

    files: Files = field(default_factory=DiskFiles)
    answers: dict[tuple[Any, ...], Any] = field(default_factory=dict)

    @property
    def library(self) -> Tree | None:
        return self.files.library

    def main(self, name: str, most: int) -> Read:
        return self._noted("main", name, most)  # type: ignore[no-any-return]

    def used(self, tree: Tree, path: str, most: int) -> Read | Escape | None:
        return self._noted("used", tree, path, most)  # type: ignore[no-any-return]

    def names(self, tree: Tree, folder: str) -> tuple[str, ...]:
        return self._noted("names", tree, folder)  # type: ignore[no-any-return]

    def _noted(self, what: str, *asked: Any) -> Any:
        key = (what, *asked)
        if key not in self.answers:
            self.answers[key] = getattr(self.files, what)(*asked)
        return self.answers[key]
