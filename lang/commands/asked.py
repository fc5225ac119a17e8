"""What do the arguments that several commands share ask for?"""

from __future__ import annotations

import argparse
import re
from dataclasses import fields, replace
from fractions import Fraction

from ...kernel.faults import Fault
from ...kernel.near import nearest
from ...kernel.quantity import LENGTH
from ..inspection import Inspection, Request, has_errors
from ..limits import DEFAULT, Limits
from ..render import drawn, messages_of
from ..terminal import Terminal


def request(arguments: argparse.Namespace, file: str) -> Request:
    """What `--set` and `--limit` ask for about one file; Fault when they make no sense."""
    settings = _pairs("--set", arguments.settings)
    return Request(file=file, settings=settings, limits=_limits(arguments.limits))


def length_written(written: str) -> Fraction | None:
    """A length as a design writes it, exact mm; a bare 0 needs no unit. None for anything else."""
    from ..build import number_value
    from ..tokens import NUMBER_PATTERN
    from ..units import in_dimension, quantity

    text = written.strip()
    if not re.fullmatch(NUMBER_PATTERN, text) or len(text) > 60:
        return None
    try:
        value = quantity(*number_value(text))
    except ZeroDivisionError:
        return None
    length = None if value is None else in_dimension(value, LENGTH)
    return None if length is None else length.number


def complain(inspection: Inspection, shown: Terminal) -> None:
    """Draws the findings on the standard error."""
    for message in messages_of(inspection.findings):
        text = drawn(message, inspection.pages, shown.err_has_colour)
        shown.complain(text + "\n")


def exit_code(inspection: Inspection) -> int:
    """0 when nothing stands against the result, warnings aside; else 1."""
    return 1 if has_errors(inspection.findings) else 0


def _pairs(option: str, written: list[str]) -> dict[str, str]:
    """`name=value` texts by name; Fault for anything else, and for a name given twice."""
    pairs: dict[str, str] = {}
    for text in written:
        name, equals, value = text.partition("=")
        name, value = name.strip(), value.strip()
        if not (equals and name and value):
            raise Fault(f"{option} takes name=value, not `{text}`")
        if name in pairs:
            raise Fault(f"{option} gives `{name}` twice")
        pairs[name] = value
    return pairs


def _limits(written: list[str]) -> Limits:
    known = [field.name for field in fields(Limits)]
    changes: dict[str, int] = {}
    for name, value in _pairs("--limit", written).items():
        if name not in known:
            near = nearest(name, known)
            ask = f": is `{near}` meant?" if near else f"; there are {', '.join(known)}"
            raise Fault(f"there is no limit `{name}`{ask}")
        if not (value.isascii() and value.isdigit() and 0 < int(value[:19]) <= 10**12):
            raise Fault(f"the limit `{name}` is a count of at least 1, not `{value}`")
        changes[name] = int(value)
    return replace(DEFAULT, **changes)
