"""`dryfit explain`: what does a code mean, and what mends it?"""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ...kernel.faults import Fault, InternalError
from ...kernel.near import nearest
from ..codes import CODES, Code, code_named
from ..messages import summary
from ..terminal import Terminal

if TYPE_CHECKING:
    from ...kernel.joints.family import Family
    from ...kernel.joints.options import OptionSpec
    from ...kernel.shaping.family import ShapingFamily

PAGES = Path(__file__).parents[1] / "explain"
"""A page a code, `J203.md`."""


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """0 when there is something to say; Fault for a topic that does not exist."""
    if arguments.list or arguments.topic is None:
        shown.say_exactly(_list())
    else:
        shown.say_exactly(_about(arguments.topic))
    return 0


def _about(topic: str) -> str:
    """The page of a code, or the options of a joint or cut."""
    entry = code_named(topic)
    if entry is not None:
        return page_of(entry)
    from ...kernel.joints import families
    from ...kernel.shaping import shapings

    word = topic.lower()
    found = [_joint(family) for family in families() if family.name == word]
    found += [_cut(family) for family in shapings() if family.name == word]
    if not found:
        raise Fault(_no_such(topic, [f.name for f in families()] + [f.name for f in shapings()]))
    return "\n".join(found)


def _list() -> str:
    """Every joint, cut and code on a line, retired codes told apart."""
    from ...kernel.joints import families
    from ...kernel.shaping import shapings

    joints = [f"{family.name:<12}  {family.words}" for family in families()]
    cuts = [f"{family.name:<12}  {family.words}" for family in shapings()]
    codes = [f"{entry.code}  {_standing(entry):<8} {entry.summary}" for entry in CODES]
    return "\n".join([*joints, "", *cuts, "", *codes]) + "\n"


def _standing(entry: Code) -> str:
    return "retired" if entry.is_retired else entry.severity.value


def page_of(entry: Code) -> str:
    """What a code means, as it is printed."""
    if entry.is_retired:
        return summary.retired(entry.code, entry.summary)
    path = PAGES / f"{entry.code}.md"
    if not path.exists():
        raise InternalError(f"the code {entry.code} has no page")
    return path.read_text(encoding="utf-8")


def _joint(family: Family[Any]) -> str:
    written = [f"  join A {verb.value} B with {family.name}" for verb in family.verbs]
    return _told(f"{family.name}: {family.words}", written, family.options)


def _cut(family: ShapingFamily[Any]) -> str:
    return _told(f"{family.name}: {family.words}", [f"  {family.written}"], family.options)


def _told(title: str, written: list[str], options: tuple[OptionSpec[Any], ...]) -> str:
    """What it is, how it is written, and its options with their defaults in columns."""
    rows = [("option", "default", ""), *((o.name, o.shown, o.words) for o in options)]
    first, second = (max(len(row[column]) for row in rows) + 2 for column in (0, 1))
    lines = [title, "", *written]
    if options:
        lines += ["", *(f"  {a:<{first}}{b:<{second}}{c}".rstrip() for a, b, c in rows)]
    return "\n".join(lines) + "\n"


def _no_such(topic: str, families: list[str]) -> str:
    known = [*dict.fromkeys(families), *(entry.code for entry in CODES)]
    near = nearest(topic, known) or nearest(topic.upper(), known)
    ask = f"is `{near}` meant?" if near else "`dryfit explain --list` lists all"
    return f"there is no code, joint or cut called `{topic}`; {ask}"
