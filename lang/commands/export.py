"""`dryfit export`: the meshes and cutting profiles of a piece that goes together."""

from __future__ import annotations

import argparse
import math
from pathlib import Path

from ...kernel.faults import Fault, InternalError
from ...kernel.thresholds import EXPORT_CHORD
from ..columns import safe
from ..files import DiskFiles
from ..inspection import Inspection, inspected
from ..messages import summary
from ..terminal import Terminal
from .asked import complain, request

COARSEST, FINEST = 5.0, 1e-5
"""Chords outside these make no useful mesh: a bit's radius, or a hundredth of a micron."""


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """Checks first; with any error nothing is written. 0 when written, 1 when refused."""
    from ...kernel.export.shelf import write_set

    formats, chord = _formats(arguments.formats), _chord(arguments.chord)
    asked = request(arguments, arguments.file)
    with shown.busy(f"{asked.file}: reading") as step:
        inspection = inspected(asked, DiskFiles(), lambda stage: step(f"{asked.file}: {stage}"))
    complain(inspection, shown)
    if not inspection.is_sound:
        shown.complain(f"{safe(asked.file)}: {summary.NOTHING_WRITTEN}")
        return 1
    with shown.busy(f"{asked.file}: making {', '.join(formats)}"):
        files = _files(inspection, formats, chord)
        piece = Path(asked.file).stem
        written = write_set(Path(arguments.to), files, arguments.force, piece)
    shown.say(
        f"{safe(asked.file)}: {summary.counted(len(written), 'file')} in {safe(arguments.to)}"
    )
    return 0


def _files(inspection: Inspection, formats: tuple[str, ...], chord: float) -> dict[str, bytes]:
    from ...kernel.export import export_files

    if inspection.plan is None:
        raise InternalError("a sound inspection has no plan")
    return export_files(inspection.plan, formats, chord)


def _formats(written: str) -> tuple[str, ...]:
    """The formats asked for, each once; Fault for one that is not made."""
    from ...kernel.export import FORMATS

    asked = tuple(dict.fromkeys(word.strip().lower() for word in written.split(",")))
    for word in asked:
        if word not in FORMATS:
            raise Fault(f"--as takes some of {','.join(FORMATS)}, not `{word}`")
    return asked


def _chord(written: str | None) -> float:
    """Millimetres, with or without the unit."""
    if written is None:
        return EXPORT_CHORD
    try:
        chord = float(written.strip().removesuffix("mm"))
    except ValueError:
        chord = math.nan
    if not FINEST <= chord <= COARSEST:
        raise Fault(f"--chord is a length between {FINEST:.5f} and {COARSEST:g}, not `{written}`")
    return chord
