"""The language: from `.dry` text to a `Design`, and how its mistakes are told.

Importing this package imports nothing else of it; `load` brings in the stages when called.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from ..kernel.design import Design
    from ..kernel.finding import Outcome


def load(path: str | Path, settings: Mapping[str, str] | None = None) -> Outcome[Design]:
    """The design in a file on the disk, with params set as `--set` sets them: `{"width": "42cm"}`.

    Raises `dryfit.kernel.faults.Fault` when the file cannot be read.
    """
    from ..kernel.finding import Outcome
    from .files import DiskFiles
    from .pipeline import design_from

    read = design_from(str(path), DiskFiles(), settings or {})
    return Outcome(read.value, read.findings)
