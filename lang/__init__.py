"""The language: from `.dry` text to a `Design`, and how its mistakes are told.

Importing this package imports nothing else of it; `load` brings in the stages when called.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from .loaded import Loaded


def load(path: str | Path, settings: Mapping[str, str] | None = None) -> Loaded:
    """The design in a file on the disk, with params set as `--set` sets them: `{"width": "42cm"}`.

    Its `value` is the design, its `piece` measures what the design's own tests measure. Raises
    `dryfit.kernel.faults.Fault` when the file cannot be read.
    """
    from .files import DiskFiles
    from .loaded import Loaded
    from .pipeline import design_from

    read = design_from(str(path), DiskFiles(), settings or {})
    return Loaded(read.value, read.findings)
