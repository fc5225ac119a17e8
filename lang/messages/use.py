"""The words of N2 codes: files that are used."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from ...kernel.finding import Finding
from ..name_findings import Escape, UseCycle, UseNotFound, UseRefused
from . import Wording
from .listing import ticked
from .words import Edit, Help, Words


def _not_found(finding: UseNotFound) -> Words:
    place = finding.place
    help_: tuple[Help, ...] = ()
    if finding.nearest is not None:
        edit = None if place is None else Edit(place, f'"{finding.nearest}"')
        help_ = (Help(f'the nearest file is "{finding.nearest}"', edit),)
    return Words(
        title=f'there is no file "{finding.path}"',
        label="neither beside this file nor in the library that ships",
        help=help_,
    )


_WHY: Final[Mapping[Escape, tuple[str, str]]] = {
    Escape.EMPTY: ("no file is named", "write the file's path from this file's folder"),
    Escape.ABSOLUTE: (
        "a path from the root is out of bounds",
        "write the path from this file's folder, such as `parts/drawer.dry`",
    ),
    Escape.BACKSLASH: (
        "a backslash parts no folders here",
        "write `/` between folders: the design then reads the same on every computer",
    ),
    Escape.UNFIT: (
        "this is no path below the design's folder",
        "write folders and a file's name with `/` between them, and nothing else",
    ),
    Escape.CLIMBS: (
        "this climbs out of the design's folder",
        "move the file into the design's folder, or open the design from the folder above",
    ),
    Escape.LINK: (
        "a link leads out of the design's folder from here",
        "put the file itself into the design's folder",
    ),
    Escape.ENDING: ("a used file ends in `.dry`", "name a design's file"),
}


def _refused(finding: UseRefused) -> Words:
    label, help_ = _WHY[finding.why]
    return Words(title=f'"{finding.path}" cannot be used', label=label, help=(Help(help_),))


def _cycle(finding: UseCycle) -> Words:
    if len(finding.chain) == 2:
        title = f"`{finding.chain[0]}` uses itself"
    else:
        title = f"`{finding.chain[0]}` uses itself by way of {ticked(finding.chain[1:-1], 'and')}"
    return Words(
        title=title,
        label="this leads back to where it began",
        help=(Help("move what both need into a third file, and use that from both"),),
    )


WORDS: Mapping[type[Finding], Wording] = {
    UseNotFound: _not_found,
    UseRefused: _refused,
    UseCycle: _cycle,
}
