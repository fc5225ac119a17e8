"""How do `check` and `test` hand their findings to other programs?"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from ..results import Result
from ..roots import Root
from ..terminal import Terminal
from ..version import VERSION


def say_sarif(
    files: tuple[str, ...], results: tuple[Result, ...], faults: Sequence[str], shown: Terminal
) -> None:
    """The results as a SARIF log, each code explained by its page."""
    from ..sarif import Log, as_sarif
    from .explain import page_of

    log = Log(files=files, results=results, faults=tuple(faults))
    shown.say_exactly(as_sarif(log, _here(), page_of, VERSION))


def say_annotations(results: tuple[Result, ...], faults: Sequence[str], shown: Terminal) -> None:
    """The results as lines of a build's log."""
    from ..annotations import as_annotations

    shown.say_exactly(as_annotations(results, faults, _here()))


def _here() -> Root:
    """The folder that names of files start from."""
    return Root(Path.cwd().as_posix())
