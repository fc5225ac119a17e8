"""`dryfit cutlist`: which parts are to be cut, how many, of what?"""

from __future__ import annotations

import argparse

from ..files import DiskFiles
from ..inspection import planned
from ..terminal import Terminal
from .asked import complain, exit_code, request


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """0 when listed, 1 when an error stands in the way."""
    from ...kernel.besides import besides
    from ...kernel.cutlist import as_csv, as_json, as_table, cut_list

    inspection = planned(request(arguments, arguments.file), DiskFiles())
    complain(inspection, shown)
    if inspection.plan is None or not inspection.is_sound:
        return 1
    parts, extra = cut_list(inspection.plan), besides(inspection.plan)
    match arguments.format:
        case "csv":
            text = as_csv(parts, extra)
        case "json":
            text = as_json(parts, extra)
        case _:
            text = as_table(parts, extra)
    shown.say_exactly(text)
    return exit_code(inspection)
