"""`dryfit show`: the design with everything resolved, a still picture of the piece, how far what
moves in it comes and how much room it has, or what a page that shows it needs to know."""

from __future__ import annotations

import argparse
from pathlib import Path

from ...kernel.faults import Fault
from ..files import DiskFiles, replace_file
from ..inspection import Inspection, Request, designed, planned
from ..terminal import Terminal
from .asked import complain, exit_code, request


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """0 when shown, 1 when an error was found; what could be made out is shown all the same."""
    asked = request(arguments, arguments.file)
    with shown.busy(f"{asked.file}: drawing"):
        if arguments.form == "design":
            inspection = designed(asked, DiskFiles())
            text = _design(inspection)
        elif arguments.form == "motions":
            inspection = planned(asked, DiskFiles())
            text = _motions(inspection)
        elif arguments.form == "scene":
            inspection, text = _scene(asked)
        else:
            inspection = planned(asked, DiskFiles())
            text = _picture(inspection)
    complain(inspection, shown)
    if text is None:
        return 1
    if arguments.to is None:
        shown.say_exactly(text)
    else:
        write_ours(Path(arguments.to), text, DRAWN, force=arguments.force)
    return exit_code(inspection)


DRAWN = "<!-- drawn by dryfit -->\n"
"""Ends every picture, so that a later run knows its own and may replace it."""


def _design(inspection: Inspection) -> str | None:
    from ...kernel.show import design_text

    return None if inspection.design is None else design_text(inspection.design)


def _picture(inspection: Inspection) -> str | None:
    if inspection.plan is None:
        return None
    from ...kernel.picture import picture

    return picture(inspection.plan) + DRAWN


def _motions(inspection: Inspection) -> str | None:
    if inspection.plan is None:
        return None
    from ...kernel.motion import room_of, stop_of
    from ...kernel.solids import Bodies
    from ..messages.motions import Course, courses

    bodies, boards = Bodies(inspection.plan), inspection.plan.boards
    found = []
    for motion in inspection.plan.design.motions:
        stop = stop_of(bodies, motion)
        room = room_of(bodies, motion) if stop is None else None
        met = stop or room
        still = None if met is None else boards[met.still].board.name
        moving = None if met is None else boards[met.moving].board.name
        after, gap = stop.after if stop else None, room.gap if room else None
        found.append(Course(motion=motion, moving=moving, still=still, after=after, gap=gap))
    return courses(tuple(found))


def _scene(asked: Request) -> tuple[Inspection, str | None]:
    """What `viewer/scene.schema.json` states, checks and all; goes with the exported GLB."""
    from ...viewer.looking import Looking

    looking = Looking(asked)
    inspection = looking.checked(looking.read(DiskFiles()))
    if inspection.plan is None:
        return inspection, None
    shown = looking.seen(inspection, looking.worked(inspection))
    return inspection, shown.scene.decode() + "\n"


def write_ours(path: Path, text: str, mark: str, *, force: bool) -> None:
    """Puts the text at `path` whole or not at all; Fault when what stands there does not end in
    `mark` as what we write does, and is not the same text already."""
    data = text.encode()
    if path.is_dir():
        raise Fault(f"`{path}` is a folder")
    if path.exists() and not force:
        there = path.read_bytes()
        if there != data and not there.endswith(mark.encode()):
            raise Fault(f"`{path}` was not made by dryfit: name another file, or use --force")
    if not path.parent.is_dir():
        raise Fault(f"there is no folder `{path.parent}`")
    replace_file(path, data)
