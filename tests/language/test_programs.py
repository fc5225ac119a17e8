"""Every `.dry` beside this file says of its own lines what is found on them.

    board left of ply21  x 0..t  y 0..d  z 0..h      # error[N104]

A comment that begins with `#^` speaks of the line above it, one with `#^^` of the line above that;
`#! error[U110]` of no line at all.
`#! set rows=9` and `#! limit boards=3` set things from outside. What is not marked must not be
found; of one code, more than one may be marked on a line.
"""

import re
from collections import Counter
from pathlib import Path

import pytest
from looking import Asked, drawing, look, marks, pair

HERE = Path(__file__).parent
PROGRAMS = sorted(HERE.glob("*.dry"))
MARK = re.compile(r"\b(?:error|warning)\[[A-Z]\d{3}\]")


def test_there_are_programs() -> None:
    assert PROGRAMS


@pytest.mark.parametrize("path", PROGRAMS, ids=lambda path: path.stem)
def test_program(path: Path) -> None:
    files = {
        other.relative_to(HERE).as_posix(): other.read_bytes() for other in HERE.rglob("*.dry")
    }
    text = files[path.name].decode("utf-8", "replace")
    got = look(
        Asked(
            name=path.name,
            files=files,
            settings=dict(pair(word) for word in said(text, "set")),
            limits={name: int(value) for name, value in map(pair, said(text, "limit"))},
        )
    )
    read = {path.name, *(name for name, _, _ in marks(got)), *got.pages.by_file}
    wanted = Counter(mark for name in read for mark in marked(name, files.get(name, b"")))
    assert Counter(marks(got)) == wanted, drawing(got)


def said(text: str, word: str) -> list[str]:
    """What follows `#! set` or `#! limit`, each a name=value."""
    lines = re.findall(rf"^#! {word} (.+)$", text, re.MULTILINE)
    return [part for line in lines for part in line.split()]


def marked(name: str, data: bytes) -> list[tuple[str, int | None, str]]:
    """What a file's comments say is to be found, in the form of `looking.marks`."""
    found: list[tuple[str, int | None, str]] = []
    lines = re.split(r"\r\n|\n|\r", data.decode("utf-8", "replace"))
    for number, line in enumerate(lines, 1):
        _, sign, comment = line.partition("#")
        above = len(comment) - len(comment.lstrip("^"))
        where = None if comment.startswith("!") else number - above
        if sign:
            found += [(name, where, mark) for mark in MARK.findall(comment)]
    return found
