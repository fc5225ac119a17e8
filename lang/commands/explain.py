"""`dryfit explain`: what does a code mean, and what mends it?"""

from __future__ import annotations

import argparse
from pathlib import Path

from ...kernel.faults import Fault, InternalError
from ..codes import CODES, Code, code_named
from ..messages import summary
from ..near import nearest
from ..terminal import Terminal

PAGES = Path(__file__).parents[1] / "explain"
"""A page a code, `J203.md`."""


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """0 when there is something to say; Fault for a topic that does not exist."""
    if arguments.list or arguments.topic is None:
        shown.say_exactly(_list())
        return 0
    entry = code_named(arguments.topic)
    if entry is None:
        raise Fault(_no_such(arguments.topic))
    shown.say_exactly(_page(entry))
    return 0


def _list() -> str:
    """Every code on a line, retired ones told apart."""
    return "".join(
        f"{entry.code}  {'retired' if entry.is_retired else entry.severity.value:<8} "
        f"{entry.summary}\n"
        for entry in CODES
    )


def _page(entry: Code) -> str:
    if entry.is_retired:
        return summary.retired(entry.code, entry.summary)
    path = PAGES / f"{entry.code}.md"
    if not path.exists():
        raise InternalError(f"the code {entry.code} has no page")
    return path.read_text(encoding="utf-8")


def _no_such(topic: str) -> str:
    near = nearest(topic.upper(), [entry.code for entry in CODES])
    ask = f"; is `{near}` meant?" if near else "; `dryfit explain --list` lists them"
    return f"there is no code `{topic}`{ask}"
