"""`dryfit view`: the piece in a browser, as it changes, or saved as one page."""

from __future__ import annotations

import argparse
import os
import threading
import webbrowser
from contextlib import suppress
from pathlib import Path

from ...kernel.faults import Fault
from ..columns import safe
from ..files import DiskFiles
from ..inspection import Request
from ..messages import view as say
from ..terminal import Terminal
from .asked import complain, exit_code, request
from .show import write_ours


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """Shows until interrupted: 0. Saved: 0, or 1 when an error was found, the page saved all the
    same where there is anything to show."""
    asked = request(arguments, arguments.file)
    if arguments.save is not None:
        return _save(asked, Path(arguments.save), shown, force=arguments.force)
    return _serve(asked, _port(arguments.port), shown, opens=not arguments.no_open)


def _save(asked: Request, page: Path, shown: Terminal, *, force: bool) -> int:
    from ...viewer.looking import Looking
    from ...viewer.pagefiles import page_files
    from ...viewer.saved import MARK, saved_page

    files, looking = page_files(), Looking(asked)
    with shown.busy(f"{asked.file}: drawing"):
        inspection = looking.checked(looking.read(DiskFiles()))
        picture = looking.seen(inspection, looking.worked(inspection))
    complain(inspection, shown)
    if inspection.design is None or inspection.plan is None or not inspection.plan.boards:
        return 1
    text = saved_page(files, picture, inspection.design.name)
    write_ours(page, text, f"{MARK}\n", force=force)
    shown.say(say.saved_at(safe(asked.file), safe(str(page)), len(text.encode())))
    return exit_code(inspection)


def _serve(asked: Request, port: int, shown: Terminal, *, opens: bool) -> int:
    """Ends with Ctrl-C, which is how it is meant to end."""
    from ...viewer.opened import opened
    from ...viewer.pagefiles import page_files

    with opened(asked, page_files(), port) as page, suppress(KeyboardInterrupt):
        shown.say(say.shown_at(safe(asked.file), page.address))
        shown.say(say.HOW_TO_END)
        shown.out.flush()
        if opens:
            # A browser that runs in the terminal would hold the page up.
            call = threading.Thread(target=webbrowser.open, args=(page.address,), daemon=True)
            call.start()
        page.follow(threading.Event())
    if page.live.is_checking:
        os._exit(0)  # no boolean can be told to stop half way, and nobody waits for this one
    return 0


def _port(written: str | None) -> int:
    if written is None:
        return 0
    if not (written.isascii() and written.isdigit() and 0 < int(written[:6]) < 2**16):
        raise Fault(f"--port is a number between 1 and 65535, not `{written}`")
    return int(written)
