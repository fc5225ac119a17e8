"""`dryfit show`: the design with everything resolved, or a still picture of the piece."""

from __future__ import annotations

import argparse
import os
import tempfile
from pathlib import Path

from ...kernel.faults import Fault
from ..files import DiskFiles
from ..inspection import Inspection, designed, planned
from ..terminal import Terminal
from .asked import complain, exit_code, request


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """0 when shown, 1 when an error was found; what could be made out is shown all the same."""
    asked = request(arguments, arguments.file)
    with shown.busy(f"{asked.file}: drawing"):
        if arguments.form == "design":
            inspection = designed(asked, DiskFiles())
            text = _design(inspection)
        else:
            inspection = planned(asked, DiskFiles())
            text = _picture(inspection)
    complain(inspection, shown)
    if text is None:
        return 1
    if arguments.to is None:
        shown.say_exactly(text)
    else:
        _write(Path(arguments.to), text, arguments.force)
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


def _write(path: Path, text: str, force: bool) -> None:
    """Puts the text at `path` whole or not at all; Fault when what stands there is not ours."""
    data = text.encode()
    if path.is_dir():
        raise Fault(f"`{path}` is a folder")
    if path.exists() and not force and not _is_ours(path.read_bytes(), data):
        raise Fault(f"`{path}` was not made by dryfit: name another file, or use --force")
    if not path.parent.is_dir():
        raise Fault(f"there is no folder `{path.parent}`")
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.chmod(name, _mode(path))
        os.replace(name, path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _is_ours(there: bytes, new: bytes) -> bool:
    """A picture of ours, or the very same bytes."""
    return there == new or there.endswith(DRAWN.encode())


def _mode(path: Path) -> int:
    """The rights of the file replaced, else those that a new file gets here."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
