"""`dryfit steps`: in which order do the parts go together, and which way does each move?"""

from __future__ import annotations

import argparse

from ..files import DiskFiles
from ..inspection import inspected
from ..terminal import Terminal
from .asked import complain, exit_code, request


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """0 when told, 1 when an error stands in the way: boards that overlap or lock each other."""
    with shown.busy(f"{arguments.file}: looking for an order") as step:
        inspection = inspected(request(arguments, arguments.file), DiskFiles(), step)
        if inspection.plan is None or not inspection.is_sound:
            complain(inspection, shown)
            return 1
        from ...kernel.assembly import assembly
        from ...kernel.faults import InternalError
        from ...kernel.solids import Bodies
        from ...kernel.steplist import as_json, as_text
        from ...kernel.steps import Assembly

        step("putting the boards together")
        found = assembly(Bodies(inspection.plan))
        if not isinstance(found, Assembly):
            raise InternalError("boards that came apart in the check are locked in the plan")
    complain(inspection, shown)
    told = as_json if arguments.format == "json" else as_text
    shown.say_exactly(told(inspection.plan, found))
    return exit_code(inspection)
