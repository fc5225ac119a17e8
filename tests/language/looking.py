"""Looks at a text as `dryfit check` would, without a disk: what the language tests share."""

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from typing import Any

from dryfit.kernel.checks import check
from dryfit.kernel.finding import in_order
from dryfit.kernel.plan import cut_plan
from dryfit.lang.files import MemoryFiles
from dryfit.lang.inspection import Inspection, Request, inspected
from dryfit.lang.limits import DEFAULT, Limits
from dryfit.lang.render import Pages, drawn, messages_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A text with what is set from outside."""

    name: str
    files: Mapping[str, bytes]
    settings: Mapping[str, str]
    limits: Mapping[str, int]


def look(asked: Asked) -> Inspection:
    if asked.name.endswith(".py"):
        return _made_by_hand(asked)
    known = {field.name for field in fields(Limits)}
    assert set(asked.limits) <= known, f"no such limit: {set(asked.limits) - known}"
    request = Request(
        file=asked.name, settings=asked.settings, limits=replace(DEFAULT, **asked.limits)
    )
    return inspected(request, MemoryFiles(asked.files))


def _made_by_hand(asked: Asked) -> Inspection:
    """The same for a design that a Python program binds to `design`."""
    made: dict[str, Any] = {}
    exec(compile(asked.files[asked.name], asked.name, "exec"), made)  # noqa: S102  our own page
    outcome = cut_plan(made["design"])
    checked = () if outcome.value is None else check(outcome.value)
    return Inspection(
        file=asked.name,
        findings=in_order(outcome.findings + checked),
        pages=Pages({}),
        design=made["design"],
        plan=outcome.value,
    )


def drawing(inspection: Inspection) -> str:
    """Every message as it is drawn, an empty line between two."""
    return "\n\n".join(drawn(m, inspection.pages) for m in messages_of(inspection.findings))


def marks(inspection: Inspection) -> list[tuple[str, int | None, str]]:
    """File, line and `error[J203]` of each message, in order; no line where it
    has no place in a file that was read, as with a value set from outside."""
    found = []
    for message in messages_of(inspection.findings):
        mark = f"{message.severity.value}[{message.code}]"
        place = message.place
        lines = inspection.pages.by_file.get(place.file) if place else None
        if place is None or place.file.startswith("--set "):
            found.append((inspection.file, None, mark))
        elif lines is None:
            found.append((place.file, None, mark))
        else:
            found.append((place.file, lines.position(place.start).line, mark))
    return found


def pair(text: str) -> tuple[str, str]:
    """`rows=9` as a name and a value."""
    name, equals, value = text.partition("=")
    assert equals, f"a setting is written name=value, not {text!r}"
    return name, value
