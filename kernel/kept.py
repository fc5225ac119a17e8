"""What is kept from one look at a design to the next? Answers, by all that decides them.

Whoever checks a design again and again as it changes hands the same `Kept` to every check: shapes
get numbers that last, and what was worked out for shapes that lie alike is looked up and not worked
out anew. Every key holds all that decides its answer, so that an answer found is the answer that
would be made.

For one thread at a time.
"""

from __future__ import annotations

from collections.abc import Hashable
from typing import Any, TypeVar

LOOKS = 4
"""A shape that so many looks in a row did not have is forgotten, with all that was made of it: an
edit taken back soon costs nothing."""

MOST_KEPT = 100_000
"""Answers a table holds. A board that is moved about gives new ones with every look; past this
many the older half goes."""

K = TypeVar("K", bound=tuple[Any, ...])
V = TypeVar("V")


class Table(dict[K, V]):
    """Answers by their keys, the first `numbers` items of which are numbers of shapes."""

    def __init__(self, numbers: int, most: int) -> None:
        super().__init__()
        self.numbers, self.most = numbers, most

    def forget(self, gone: frozenset[int]) -> None:
        """Drops the answers about shapes that are gone, and of too many the older half."""
        for key in [key for key in self if not gone.isdisjoint(key[: self.numbers])]:
            del self[key]
        if len(self) > self.most:
            for key in list(self)[: len(self) // 2]:
                del self[key]


class Kept:
    """Tables by name, and lasting numbers for shapes, which are dear to compare."""

    def __init__(self) -> None:
        self._tables: dict[Hashable, Table[Any, Any]] = {}
        self._numbers: dict[Hashable, int] = {}
        self._asked: dict[int, int] = {}
        self._given = 0
        self._look = 0

    def table(self, name: Hashable, numbers: int = 1, most: int | None = None) -> Table[Any, Any]:
        """The table of that name, empty when it is asked for first; its keys are tuples that begin
        with so many numbers, and it holds at most `most` answers from look to look."""
        if name not in self._tables:
            self._tables[name] = Table(numbers, MOST_KEPT if most is None else most)
        return self._tables[name]

    def number(self, shape: Hashable) -> int:
        """The number of a shape: alike for equal ones, never given twice."""
        if shape not in self._numbers:
            self._numbers[shape] = self._given
            self._given += 1
        number = self._numbers[shape]
        self._asked[number] = self._look
        return number

    def turn(self) -> None:
        """Called before each look; forgets what the last looks did not ask for."""
        self._look += 1
        gone = frozenset(n for n, look in self._asked.items() if look < self._look - LOOKS)
        self._numbers = {shape: n for shape, n in self._numbers.items() if n not in gone}
        self._asked = {n: look for n, look in self._asked.items() if n not in gone}
        for table in self._tables.values():
            table.forget(gone)
