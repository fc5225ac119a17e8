"""`dryfit joints`: which joints are there, and how do they look?"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from ...kernel.faults import InternalError
from ..catalogue import Drawing, Entry, document, page
from ..messages import summary
from ..sheet import Figure, Layout, Panel, sheet
from ..terminal import Terminal
from .reference import plan_of

if TYPE_CHECKING:
    from ...kernel.picture import Figure as Drawn
    from ...kernel.plan import CutPlan

PROGRAMS = Path(__file__).parents[1] / "joints"
"""The smallest program of each joint, `box.dry`."""

SCALE, ON_SHEET, LEAST = 1.0, 0.58, 150.0
"""px a mm, to which all joints are drawn, what becomes of that on a sheet of many, and the least
width of a drawing, px."""

VIEWS = (
    ("closed", "inside, closed"),
    ("apart", "inside, drawn apart"),
    ("closed-outside", "outside, closed"),
    ("apart-outside", "outside, drawn apart"),
)
"""The end of each drawing's file name, and what it shows."""

FEW = {
    "box": 3,
    "extended_box": 3,
    "blind_box": 3,
    "drawer_lock": 1,
    "stopped_dovetail": 1,
    "wedged_tenon": 3,
    "haunched_tenon": 3,
    "step": 1,
    "puzzle": 1,
}
"""The joints of the small sheet, and which of the two views apart shows more."""


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """Lists the catalogue, or draws it into a folder; 0 when done."""
    if arguments.to is None:
        shown.say_exactly(_table())
        return 0
    from ...kernel.export.shelf import write_set

    with shown.busy("drawing the joints") as step:
        drawn = []
        for path in sorted(PROGRAMS.glob("*.dry")):
            step(f"drawing {path.stem}")
            drawn.append(_shown(path.stem, path.read_text("utf-8")))
        files = {**_files(drawn), **_pages(step)}
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


@dataclass(frozen=True, slots=True)
class Shown:
    """A program's words and its figures, in the order of `VIEWS`."""

    entry: Entry
    figures: tuple[Figure, ...]


def _shown(name: str, program: str) -> Shown:
    from ...kernel.joints import family_named
    from ...kernel.picture import with_scale_bar

    plan = plan_of(name, program)
    family = family_named(plan.joints[0].join.family)
    if family is None:
        raise InternalError(f"the program of {name} shows no joint")
    figures = _figures(plan)
    entry = Entry(
        name=name,
        family=family.name,
        title=plan.design.name,
        words=family.words,
        program=program,
        drawings=tuple(
            Drawing(ending=ending, shows=shows, text=with_scale_bar(f), width=round(f.width))
            for (ending, shows), f in zip(VIEWS, figures, strict=True)
        ),
    )
    return Shown(entry, tuple(Figure("".join(f.body), f.width, f.height) for f in figures))


def _figures(plan: CutPlan) -> tuple[Drawn, ...]:
    """The joint closed and drawn apart, its inside to the reader, then its outside."""
    from ...kernel.apart import drawn_apart
    from ...kernel.closeup import close_up, inside, turned, turned_point, turned_to
    from ...kernel.picture import figure_of, sight

    closed = close_up(plan)
    apart = drawn_apart(closed)
    if apart is None:
        raise InternalError(f"{plan.design.name} does not come apart")
    x, y, z = inside(closed)
    found = []
    for way in ((x, y, z), (-x, -y, -z)):
        moves = turned_to(closed, way, sight())
        arrow = (turned_point(apart.away, moves), turned_point(apart.home, moves))
        found.append(figure_of(turned(closed, moves), most=SCALE, least=LEAST))
        found.append(figure_of(turned(apart.plan, moves), most=SCALE, least=LEAST, arrow=arrow))
    return tuple(found)


def _pages(step: Callable[[str], object]) -> dict[str, bytes]:
    """The page of every joint, `box.html`."""
    from ...kernel.joints import families
    from .explain import page_of_joint

    found = {}
    for family in families():
        step(f"measuring {family.name}")
        found[f"{family.name}.html"] = document(page_of_joint(family)).encode("utf-8")
    return found


def _files(shown: list[Shown]) -> dict[str, bytes]:
    entries = [one.entry for one in shown]
    files = {"index.html": page(entries), "joints.svg": _full_sheet(shown)}
    for entry in entries:
        for drawing in entry.drawings:
            files[f"{entry.name}-{drawing.ending}.svg"] = drawing.text
    return {name: text.encode("utf-8") for name, text in files.items()}


def _full_sheet(shown: list[Shown]) -> str:
    """Every joint in all its views."""
    from ...kernel.picture import bar_of

    bar = Figure(*bar_of(ON_SHEET * SCALE))
    heads = tuple(shows for _, shows in VIEWS)
    layout = Layout(columns=2, scale=ON_SHEET, heads=heads, bar=bar)
    panels = [Panel(one.entry.title, one.entry.words, one.figures) for one in shown]
    return sheet("Joints", panels, layout)


def small_sheet() -> str:
    """A few joints: how they look from outside, and how they go together."""
    panels = []
    for name, view in FEW.items():
        shown = _shown(name, (PROGRAMS / f"{name}.dry").read_text("utf-8"))
        panels.append(Panel(shown.entry.title, "", (shown.figures[2], shown.figures[view])))
    return sheet("Some joints", panels, Layout(columns=3, scale=ON_SHEET))
