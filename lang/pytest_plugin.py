"""The tests of designs as pytest items: every `.dry` file collected, an item a `test` block.

Installed with the package, so that `pytest` in a folder of designs runs them with the messages of
`dryfit test`. A further item stands for the design itself: whatever is found outside its tests.
Nothing heavy is imported before a design is collected.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from .inspection import Inspection
    from .verdicts import Verdict


def pytest_collect_file(parent: pytest.Collector, file_path: Path) -> pytest.Collector | None:
    """A design is a file of tests."""
    if file_path.suffix != ".dry":
        return None
    collected: pytest.Collector = DesignFile.from_parent(parent, path=file_path)
    return collected


class DesignFile(pytest.File):
    """A design; it is inspected once, when the first of its items runs."""

    _inspection: Inspection | None = None

    def collect(self) -> Iterator[pytest.Item]:
        from .files import DiskFiles
        from .inspection import Request, designed
        from .junit import DESIGN

        yield DesignItem.from_parent(self, name=DESIGN, title=None)
        read = designed(Request(file=str(self.path)), DiskFiles())
        for test in read.design.tests if read.design is not None else ():
            yield DesignItem.from_parent(self, name=test.name, title=test.name)

    def inspection(self) -> Inspection:
        if self._inspection is None:
            from .files import DiskFiles
            from .inspection import Request, inspected

            self._inspection = inspected(Request(file=str(self.path)), DiskFiles())
        return self._inspection


class Unmet(Exception):
    """A verdict that does not hold."""

    def __init__(self, verdict: Verdict) -> None:
        super().__init__(verdict.name)
        self.verdict = verdict


class DesignItem(pytest.Item):
    """One `test` block of a design, or what is found around them (`title` None)."""

    def __init__(self, *, title: str | None, **more: Any) -> None:
        super().__init__(**more)
        self.title = title

    def runtest(self) -> None:
        from .verdicts import verdicts

        for verdict in verdicts(self._file().inspection()):
            if verdict.name == self.title and not verdict.holds:
                raise Unmet(verdict)

    def repr_failure(self, excinfo: pytest.ExceptionInfo[BaseException], style: Any = None) -> str:
        if not isinstance(excinfo.value, Unmet):
            return str(super().repr_failure(excinfo, style))
        from .messages.summary import NOT_TRIED
        from .render import drawn

        pages, messages = self._file().inspection().pages, excinfo.value.verdict.messages
        return "\n\n".join(drawn(message, pages) for message in messages) or NOT_TRIED

    def reportinfo(self) -> tuple[Path, int | None, str]:
        return self.path, None, f"{self.path.name}: {self.name}"

    def _file(self) -> DesignFile:
        parent = self.parent
        if not isinstance(parent, DesignFile):
            raise TypeError("the tests of a design belong to its file")
        return parent
