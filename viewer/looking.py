"""A design looked at again and again, as it changes: what is made anew, and what is kept?

In: a request and the files it is read from. Out: what was learnt of it, and pictures of it: first
one with all that can be seen, then, once the checks are through, the same with findings, profiles
and steps. Nothing here waits, and nothing is shown.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ..kernel.assembly import assembly
from ..kernel.checks import check
from ..kernel.checks.assembly import is_whole
from ..kernel.checks.findings import LeftoverWood, UnresolvedOverlap
from ..kernel.export.drawing import drawing
from ..kernel.export.names import part_stems
from ..kernel.export.scene import Meshes
from ..kernel.export.svg import part_svg
from ..kernel.finding import in_order
from ..kernel.kept import Kept
from ..kernel.plan import BoardPlan, CutPlan
from ..kernel.profile import board_profile
from ..kernel.solids import Bodies
from ..kernel.steps import Assembly
from ..kernel.thresholds import EXPORT_CHORD
from ..lang.files import Files
from ..lang.inspection import Inspection, Request, has_language_errors, planned
from .scene import Picture, Worked, picture


class Looking:
    """What is kept of a design from one look to the next: joints, the meshes of boards, and what
    the checks worked out. Reading and checking may be done by a thread each."""

    def __init__(self, request: Request) -> None:
        self.request = request
        self._meshes = Meshes(EXPORT_CHORD)
        self._joints = Kept()
        self._checks = Kept()

    def read(self, files: Files) -> Inspection:
        """The design and its cuts, not checked yet."""
        return planned(self.request, files, kept=self._joints)

    def seen(self, inspection: Inspection, known: Worked | None = None) -> Picture:
        """What can be seen at once, or, with what was worked out since, all there is to show."""
        return picture(inspection, self._meshes, known)

    def checked(self, inspection: Inspection) -> Inspection:
        """What `check` knows of the design; of a broken one no more than was known."""
        if inspection.plan is None or has_language_errors(inspection.findings):
            return inspection
        self._checks.turn()
        found = check(inspection.plan, self._checks)
        return replace(inspection, findings=in_order(inspection.findings + found))


def is_broken(inspection: Inspection) -> bool:
    """Whether the text was not understood whole: the picture before it tells more than one with
    parts missing would."""
    return inspection.plan is None or has_language_errors(inspection.findings)


def worked(inspection: Inspection) -> Worked | None:
    """The flat profiles and the steps; None without a plan."""
    if inspection.plan is None:
        return None
    bodies = Bodies(inspection.plan)
    steps = _assembly(inspection, bodies)
    return Worked(bodies=bodies, profiles=_profiles(inspection.plan), assembly=steps)


def _assembly(inspection: Inspection, bodies: Bodies) -> Assembly | None:
    """None where boards are missing, share wood or lock each other."""
    shares = (LeftoverWood, UnresolvedOverlap)
    overlap = any(isinstance(finding, shares) for finding in inspection.findings)
    if is_broken(inspection) or overlap or not is_whole(bodies.plan):
        return None
    found = assembly(bodies)
    return found if isinstance(found, Assembly) else None


def _profiles(plan: CutPlan) -> Mapping[str, str]:
    """The flat profile of each board by its name, as SVG."""
    bits = {bit.name: bit for bit in plan.design.bits}
    stems = part_stems(plan)

    def profile(board: BoardPlan) -> str:
        return part_svg(drawing(board_profile(board, bits)), stems[board.board.name]).decode()

    return {board.board.name: profile(board) for board in plan.boards}
