"""`dryfit explain`: what does a code mean, and what mends it; what is a joint or a cut for?"""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ...kernel.faults import Fault, InternalError
from ...kernel.near import nearest
from ..codes import CODES, Code, code_named
from ..messages import summary
from ..pages import Page, as_markdown, as_text
from ..terminal import Terminal

if TYPE_CHECKING:
    from ...kernel.joints.family import Family
    from ...kernel.shaping.family import ShapingFamily

PAGES = Path(__file__).parents[1] / "explain"
"""A page a code, `J203.md`."""

JOINTS = Path(__file__).parents[1] / "joints"
"""The smallest program of each joint, `box.dry`, and what we say of it, `box.md`; `reliefs/box.dry`
where its reliefs are compared on another program."""

CUTS = Path(__file__).parents[1] / "cuts"
"""The same of each cut that belongs to one board."""


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """0 when there is something to say; Fault for a topic that does not exist."""
    if arguments.list or arguments.topic is None:
        shown.say_exactly(_list())
    else:
        shown.say_exactly(_about(arguments.topic, FORMS[arguments.format]))
    return 0


FORMS: Mapping[str, Callable[[Page], str]] = {"text": as_text, "markdown": as_markdown}


def _about(topic: str, form: Callable[[Page], str]) -> str:
    """The page of a code, of a joint or of a cut; of both where one name stands for both."""
    entry = code_named(topic)
    if entry is not None:
        return page_of(entry)
    from ...kernel.joints import families
    from ...kernel.shaping import shapings

    word = topic.lower()
    found = [page_of_joint(family) for family in families() if family.name == word]
    found += [page_of_cut(family) for family in shapings() if family.name == word]
    if not found and (JOINTS / f"{word}.dry").exists():
        text = _text(JOINTS, word, "dry")
        found = [page_of_joint(family) for family in families() if _shows(text, family)]
    if not found:
        raise Fault(_no_such(topic, [f.name for f in families()] + [f.name for f in shapings()]))
    return "\n\n".join(form(page) for page in found)


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


def page_of_joint(family: Family[Any]) -> Page:
    """The page of a joint in the reference."""
    from .reference import Texts, joint_page

    kinds = (path for path in sorted(JOINTS.glob("*.dry")) if path.stem != family.name)
    shown = {path.stem: path.read_text(encoding="utf-8") for path in kinds}
    reliefs = JOINTS / "reliefs" / f"{family.name}.dry"
    return joint_page(
        family,
        Texts(
            prose=_text(JOINTS, family.name, "md"),
            program=_text(JOINTS, family.name, "dry"),
            reliefs=reliefs.read_text(encoding="utf-8") if reliefs.exists() else None,
            kinds=tuple((name, text) for name, text in shown.items() if _shows(text, family)),
        ),
    )


def _shows(program: str, family: Family[Any]) -> bool:
    """Whether a program shows a family."""
    return re.search(rf" with {family.name}\b", program) is not None


def page_of_cut(family: ShapingFamily[Any]) -> Page:
    """The page of a kind of cut in the reference."""
    from .reference import Texts, cut_page

    texts = Texts(prose=_text(CUTS, family.name, "md"), program=_text(CUTS, family.name, "dry"))
    return cut_page(family, texts)


def _text(folder: Path, name: str, kind: str) -> str:
    path = folder / f"{name}.{kind}"
    if not path.exists():
        raise InternalError(f"{name} has no {path.name}")
    return path.read_text(encoding="utf-8")


def _no_such(topic: str, families: list[str]) -> str:
    known = [*dict.fromkeys(families), *(entry.code for entry in CODES)]
    near = nearest(topic, known) or nearest(topic.upper(), known)
    ask = f"is `{near}` meant?" if near else "`dryfit explain --list` lists all"
    return f"there is no code, joint or cut called `{topic}`; {ask}"
