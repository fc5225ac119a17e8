"""Where do results, complaints and signs of life go?

Results go to the standard output, complaints and progress to the standard error. Colour is for a
terminal only, never when `NO_COLOR` is set or the terminal is `dumb`; progress likewise.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TextIO

from .columns import safe


@dataclass(frozen=True, slots=True, kw_only=True)
class Terminal:
    """The streams of one run, and what they can show."""

    out: TextIO
    err: TextIO
    out_has_colour: bool
    err_has_colour: bool
    err_is_live: bool

    def say(self, text: str) -> None:
        """Prints a result and ends the line."""
        self.out.write(text + "\n")

    def say_exactly(self, text: str) -> None:
        """Prints a result as it is, UTF-8 whatever the terminal's own encoding."""
        self.out.flush()
        if hasattr(self.out, "buffer"):
            self.out.buffer.write(text.encode())
            self.out.buffer.flush()
        else:
            self.out.write(text)

    def complain(self, text: str) -> None:
        """Prints beside the result."""
        self.out.flush()
        self.err.write(text + "\n")
        self.err.flush()

    def agrees(self, question: str) -> bool:
        """Asks on a live terminal; no where nobody can answer."""
        if not (self.err_is_live and sys.stdin is not None and sys.stdin.isatty()):
            return False
        self.out.flush()
        self.err.write(f"{safe(question)} [y/N] ")
        self.err.flush()
        return sys.stdin.readline().strip().casefold() in ("y", "yes")

    @contextmanager
    def busy(self, text: str) -> Iterator[Callable[[str], None]]:
        """Shows on a live terminal what is being done, and takes it away when it is done; what it
        gives shows the next thing."""
        if not self.err_is_live:
            yield lambda _: None
            return
        self._flash(text)
        try:
            yield self._flash
        finally:
            self._flash("")

    def _flash(self, text: str) -> None:
        self.out.flush()
        self.err.write(f"\r\x1b[2K{safe(text)[:79]}")
        self.err.flush()


def terminal() -> Terminal:
    """The process's own streams; characters they cannot print come out as escapes, not errors."""
    out, err = sys.stdout or _nowhere(), sys.stderr or _nowhere()
    for stream in (out, err):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    plain = bool(os.environ.get("NO_COLOR")) or os.environ.get("TERM") == "dumb"
    return Terminal(
        out=out,
        err=err,
        out_has_colour=out.isatty() and not plain,
        err_has_colour=err.isatty() and not plain,
        err_is_live=err.isatty() and os.environ.get("TERM") != "dumb",
    )


def _nowhere() -> TextIO:
    """Stands for a stream that the caller closed."""
    return open(os.devnull, "w", encoding="utf-8")
