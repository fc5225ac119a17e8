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
from ..kernel.cutter import Bit
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
        self._profiles: dict[tuple[BoardPlan, str, tuple[Bit, ...]], str] = {}

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

    def worked(self, inspection: Inspection) -> Worked | None:
        """The flat profiles and the steps of a design that was checked; None without a plan."""
        plan = inspection.plan
        if plan is None:
            return None
        bodies = Bodies(plan, kept=self._checks)
        steps = _assembly(inspection, bodies)
        return Worked(bodies=bodies, profiles=self._profiles_of(plan), assembly=steps)

    def _profiles_of(self, plan: CutPlan) -> Mapping[str, str]:
        """The flat profile of each board by its name, as SVG; those kept that are still right."""
        bits, stems = plan.design.bits, part_stems(plan)
        known, self._profiles = self._profiles, {}
        for board in plan.boards:
            key = (board, stems[board.board.name], bits)
            self._profiles[key] = known.get(key) or _profile(*key)
        return {key[0].board.name: drawn for key, drawn in self._profiles.items()}


def is_broken(inspection: Inspection) -> bool:
    """Whether the text was not understood whole: the picture before it tells more than one with
    parts missing would."""
    return inspection.plan is None or has_language_errors(inspection.findings)


def _assembly(inspection: Inspection, bodies: Bodies) -> Assembly | None:
    """None where boards are missing, share wood or lock each other."""
    shares = (LeftoverWood, UnresolvedOverlap)
    overlap = any(isinstance(finding, shares) for finding in inspection.findings)
    if is_broken(inspection) or overlap or not is_whole(bodies.plan):
        return None
    found = assembly(bodies)
    return found if isinstance(found, Assembly) else None


def _profile(board: BoardPlan, stem: str, bits: tuple[Bit, ...]) -> str:
    flat = board_profile(board, {bit.name: bit for bit in bits})
    return part_svg(drawing(flat), stem).decode()
