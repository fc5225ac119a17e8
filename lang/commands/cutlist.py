"""`dryfit cutlist`: which parts are to be cut, how many, of what?"""

from __future__ import annotations

import argparse

from ..files import DiskFiles
from ..inspection import planned
from ..terminal import Terminal
from .asked import complain, exit_code, request


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """0 when listed, 1 when an error stands in the way."""
    from ...kernel.cutlist import as_csv, as_json, as_table, cut_list

    inspection = planned(request(arguments, arguments.file), DiskFiles())
    complain(inspection, shown)
    if inspection.plan is None or not inspection.is_sound:
        return 1
    parts = cut_list(inspection.plan)
    match arguments.format:
        case "csv":
            text = as_csv(parts)
        case "json":
            text = as_json(parts)
        case _:
            text = as_table(parts)
    shown.say_exactly(text)
    return exit_code(inspection)
