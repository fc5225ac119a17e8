"""When did the text of a design change?

In: the files a design is read from, as they are asked for. Out: a call each time the bytes of one
of them are others than before. Files are looked at every hundredth of a second; one that is
being written is left to settle first. No file is held open, and none is looked at that the design
did not ask for.
"""

from __future__ import annotations

import hashlib
import os
import threading
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final, TypeAlias

from ..lang.files import Files, Read, Tree
from ..lang.name_findings import Escape

PAUSE: Final = 0.01
"""Seconds between two looks."""

SETTLES: Final = 0.01
"""Seconds for which a file must stay as it is before it is read: an editor may be writing it."""

COMES_BACK: Final = 20
"""Rounds of settling that a file which has just gone is waited for."""

LARGEST: Final = 16_000_000
"""Bytes of a file that are read to compare them."""

READ_EVERY: Final = 100
"""Every so many looks the bytes themselves are compared: times and sizes may lie."""


@dataclass(frozen=True, slots=True)
class State:
    """A file as seen: `facts` are its time, size and number, `digest` that of its bytes; both None
    where there is no file to read."""

    facts: tuple[int, int, int] | None
    digest: bytes | None


States: TypeAlias = Mapping[str, State]
"""Files by their whole path."""


class Asked:
    """The files that a design asks for, noting how each was just before, those not there too."""

    def __init__(self, files: Files) -> None:
        self._files = files
        self.states: dict[str, State] = {}

    @property
    def library(self) -> Tree | None:
        return self._files.library

    def main(self, name: str, most: int) -> Read:
        self._note(name)
        return self._files.main(name, most)

    def used(self, tree: Tree, path: str, most: int) -> Read | Escape | None:
        self._note(os.path.join(tree.folder, *path.split("/")))
        return self._files.used(tree, path, most)

    def names(self, tree: Tree, folder: str) -> tuple[str, ...]:
        return self._files.names(tree, folder)

    def _note(self, name: str) -> None:
        path = os.path.abspath(name)
        self.states.setdefault(path, state_of(path))


def facts_of(path: str) -> tuple[int, int, int] | None:
    try:
        found = os.stat(path)
    except (OSError, ValueError):
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


def state_of(path: str) -> State:
    """The file as it is now; of one longer than any design, its facts stand for its bytes."""
    facts = facts_of(path)
    try:
        if facts is None or not os.path.isfile(path):
            return State(facts, None)
        if facts[1] > LARGEST:
            return State(facts, repr(facts).encode())
        with open(path, "rb") as file:
            return State(facts, hashlib.blake2b(file.read(LARGEST)).digest())
    except (OSError, ValueError):
        return State(facts, None)


def states_of(paths: Iterable[str]) -> States:
    return {path: state_of(path) for path in paths}


def watched(look: Callable[[], States], ended: threading.Event) -> None:
    """Calls `look` at once and whenever the bytes of a file changed, until `ended` is set.

    `look` gives the files to watch from then on, each as it was before it was read.
    """
    seen = look()
    looks = 0
    while not ended.wait(PAUSE):
        looks += 1
        if not _differ(seen, thoroughly=looks % READ_EVERY == 0):
            continue
        now = _settled(seen, ended)
        if all(now[path].digest == state.digest for path, state in seen.items()):
            seen = now
        else:
            seen = look()


def _differ(seen: States, *, thoroughly: bool) -> bool:
    """Whether the facts of any file, or thoroughly its bytes, are others than before."""
    if thoroughly:
        return any(state_of(path) != state for path, state in seen.items())
    return any(facts_of(path) != state.facts for path, state in seen.items())


def _settled(seen: States, ended: threading.Event) -> States:
    """The files once two looks in a row find them the same, and one that has just gone has had
    the time to come back: editors write a new file and put it in the old one's place."""
    now = states_of(seen)
    rounds = 0
    while not ended.wait(SETTLES):
        again, before = states_of(seen), now
        now, rounds = again, rounds + 1
        gone = any(state.digest and not again[path].digest for path, state in seen.items())
        if again == before and (not gone or rounds >= COMES_BACK):
            break
    return now
