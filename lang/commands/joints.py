"""`dryfit joints`: which joints are there, and how do they look?"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from ...kernel.faults import InternalError
from ..catalogue import Entry, document, page, sheet
from ..files import MemoryFiles
from ..inspection import Request, planned
from ..messages import summary
from ..terminal import Terminal

if TYPE_CHECKING:
    from ...kernel.plan import CutPlan

PROGRAMS = Path(__file__).parents[1] / "joints"
"""The smallest program of each joint, `box.dry`."""

ROOM, SCALE = 1000.0, 0.7
"""px that a drawing fits into, and px a mm: all joints are drawn to one scale."""


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """Lists the catalogue, or draws it into a folder; 0 when done."""
    if arguments.to is None:
        shown.say_exactly(_table())
        return 0
    from ...kernel.export.shelf import write_set

    with shown.busy("drawing the joints") as step:
        entries = []
        for path in sorted(PROGRAMS.glob("*.dry")):
            step(f"drawing {path.stem}")
            entries.append(_entry(path.stem, path.read_text("utf-8")))
        files = {**_files(entries), **_pages(step)}
    written = write_set(Path(arguments.to), files, arguments.force, "joints")
    shown.say(f"{summary.counted(len(written), 'file')} in {arguments.to}")
    return 0


def _table() -> str:
    """A line a family: its name, how it is written, what it is."""
    from ...kernel.joints import families

    rows = [
        (family.name, "/".join(verb.value for verb in family.verbs), family.words)
        for family in families()
    ]
    name, verbs = (max(len(row[column]) for row in rows) for column in (0, 1))
    return "".join(f"{a:<{name}}  {b:<{verbs}}  {c}\n" for a, b, c in rows)


def _entry(name: str, program: str) -> Entry:
    from ...kernel.apart import drawn_apart
    from ...kernel.joints import family_named

    file = f"{name}.dry"
    inspection = planned(Request(file=file), MemoryFiles({file: program}))
    if inspection.plan is None or inspection.findings:
        raise InternalError(f"the program of {name} is not clean")
    family = family_named(inspection.plan.joints[0].join.family)
    if family is None:
        raise InternalError(f"the program of {name} shows no joint")
    return Entry(
        name=name,
        family=family.name,
        title=inspection.plan.design.name,
        words=family.words,
        program=program,
        closed=_drawn(inspection.plan),
        apart=_drawn(drawn_apart(inspection.plan)),
    )


def _drawn(plan: CutPlan) -> str:
    from ...kernel.picture import picture

    return picture(plan, width=ROOM, height=ROOM, most=SCALE)


def _pages(step: Callable[[str], object]) -> dict[str, bytes]:
    """The page of every joint, `box.html`."""
    from ...kernel.joints import families
    from .explain import page_of_joint

    found = {}
    for family in families():
        step(f"measuring {family.name}")
        found[f"{family.name}.html"] = document(page_of_joint(family)).encode("utf-8")
    return found


def _files(entries: list[Entry]) -> dict[str, bytes]:
    files = {"index.html": page(entries), "joints.svg": sheet(entries)}
    for entry in entries:
        files[f"{entry.name}-closed.svg"] = entry.closed
        files[f"{entry.name}-apart.svg"] = entry.apart
    return {name: text.encode("utf-8") for name, text in files.items()}
