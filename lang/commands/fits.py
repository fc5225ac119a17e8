"""`dryfit fits`: how do the parts of every joint fit, and what can make it worse?"""

from __future__ import annotations

import argparse
from fractions import Fraction
from typing import TYPE_CHECKING

from ...kernel.board import Axis
from ...kernel.faults import Fault
from ...kernel.near import nearest
from ..files import DiskFiles
from ..inspection import planned
from ..terminal import Terminal
from .asked import complain, exit_code, length_written, request

if TYPE_CHECKING:
    from ...kernel.fits import Asked
    from ...kernel.plan import CutPlan
    from ...kernel.solids import Bodies
    from ...kernel.stack import Stack

MOST_SAMPLES = 1_000_000
"""More draws than this only cost time: the share is right to a thousandth by then."""


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """0 when measured, 1 when an error stands in the way."""
    asked, row = _asked(arguments), _row(arguments)
    with shown.busy(f"{arguments.file}: measuring") as step:
        inspection = planned(request(arguments, arguments.file), DiskFiles(), step)
        if inspection.plan is None or not inspection.is_sound:
            complain(inspection, shown)
            return 1
        from ...kernel.fits import fits
        from ...kernel.fittable import as_csv, as_json, as_table
        from ...kernel.solids import Bodies

        step("measuring the joints")
        bodies = Bodies(inspection.plan)
        stack = None if row is None else _stack(bodies, *row, asked)
        found = fits(bodies, asked)
    complain(inspection, shown)
    match arguments.format:
        case "csv":
            text = as_csv(found)
        case "json":
            text = as_json(found, stack)
        case _:
            text = as_table(found, stack)
    shown.say_exactly(text)
    return exit_code(inspection)


def _asked(arguments: argparse.Namespace) -> Asked:
    from ...kernel.fits import Asked
    from ...kernel.straying import Tolerances

    tolerances = Tolerances(
        bit=float(_length("--bit-error", arguments.bit_error)),
        placement=float(_length("--place-error", arguments.place_error)),
    )
    within = None if arguments.within is None else _range(arguments.within)
    return Asked(
        tolerances=tolerances,
        within=within,
        samples=_count("--samples", arguments.samples, 1, MOST_SAMPLES),
        seed=_count("--seed", arguments.seed, 0, 2**32 - 1),
    )


def _length(option: str, written: str) -> Fraction:
    """A length of 0 or more, with its unit; a bare 0 needs none."""
    found = length_written(written)
    if found is None or found < 0:
        raise Fault(f"{option} takes a length such as 0.05mm, not `{written}`")
    return found


def _range(written: str) -> tuple[float, float]:
    low, dots, high = written.partition("..")
    ends = [length_written(end) for end in (low, high)]
    if not dots or ends[0] is None or ends[1] is None or ends[0] > ends[1]:
        raise Fault(f"--within takes a range such as 0mm..0.3mm, not `{written}`")
    return float(ends[0]), float(ends[1])


def _count(option: str, written: str, least: int, most: int) -> int:
    if not (written.isascii() and written.isdigit() and least <= int(written[:12]) <= most):
        raise Fault(f"{option} takes a count from {least} to {most}, not `{written}`")
    return int(written)


def _row(arguments: argparse.Namespace) -> tuple[list[str], Axis] | None:
    if arguments.row is None and arguments.along is None:
        return None
    if arguments.row is None or arguments.along is None:
        raise Fault("--row and --along go together: --row rail,drawer[1],top --along z")
    names = [name.strip() for name in arguments.row.split(",")]
    if len(names) < 3 or not all(names):
        raise Fault("--row takes at least three names: a stop, what stands between, a stop")
    return names, Axis("xyz".index(arguments.along))


def _stack(bodies: Bodies, names: list[str], axis: Axis, asked: Asked) -> Stack:
    from ...kernel.stack import Unknown, stack

    found = stack(bodies, names, axis, asked.tolerances)
    if isinstance(found, Unknown):
        known = _names(bodies.plan)
        near = nearest(found.name, known)
        ask = f": is `{near}` meant?" if near else ""
        raise Fault(f"no board and no assembly is called `{found.name}`{ask}")
    return found


def _names(plan: CutPlan) -> list[str]:
    """Every board, and every assembly that boards are in."""
    names: dict[str, None] = {}
    for board in plan.boards:
        parts = board.board.name.split(".")
        names |= dict.fromkeys(".".join(parts[: k + 1]) for k in range(len(parts)))
    return list(names)
