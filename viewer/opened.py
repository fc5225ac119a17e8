"""A page opened on a design: the server, the watch over the files, and what joins them.

In: what is asked for, the page's files, a port. Out: an address to show, and a call that follows
the design until it is told to end.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from ..kernel.faults import Fault
from ..lang.files import DiskFiles
from ..lang.inspection import Request
from .live import Live
from .looking import Looking
from .pagefiles import PageFiles
from .server import PageServer
from .watch import Asked, States, watched


@dataclass(frozen=True, slots=True)
class Opened:
    """`address` shows the page to whoever knows it."""

    live: Live
    server: PageServer

    @property
    def address(self) -> str:
        return self.server.address

    def follow(self, ended: threading.Event) -> None:
        """Shows the design as it is and as it changes, until `ended` is set."""
        watched(self._look, ended)

    def _look(self) -> States:
        reading = Asked(DiskFiles())
        self.live.look(reading)
        return reading.states


@contextmanager
def opened(request: Request, files: PageFiles, port: int = 0) -> Iterator[Opened]:
    """Serves the page meanwhile; Fault where the port is taken or the design cannot be read."""
    DiskFiles().main(request.file, 1)
    live = Live(Looking(request))
    try:
        server = PageServer(live, files, port)
    except OSError as error:
        live.close()
        raise Fault(f"cannot listen on port {port}: {error.strerror}") from error
    threading.Thread(target=server.serve_forever, args=(0.05,), name="pages", daemon=True).start()
    try:
        yield Opened(live, server)
    finally:
        server.shutdown()
        live.close()
        server.server_close()
