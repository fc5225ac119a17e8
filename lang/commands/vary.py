"""Which family of variants do the texts of `--vary` ask for?

    width=300mm..600mm/50mm    from 300 mm in steps of 50 mm, at most 600 mm
    rows=1..8                  a count goes in steps of 1 where none is written
    kind=1,2,3                 these values and no others

A text that asks for no family is a Fault, as with every argument that makes no sense.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Final, TypeAlias

from ...kernel.faults import Fault
from ...kernel.near import nearest
from ...kernel.quantity import COUNT, Quantity
from ..build import number_value
from ..family import Axis, Family, Listed, Stepped, written
from ..tokens import NUMBER_PATTERN
from ..units import NOUGHT, UNITS, matched, quantity
from ..values import kind_of

MOST: Final = 10_000_000
"""No family may be larger: at a hundredth of a second each that takes more than a day."""

LONGEST: Final = 60
"""Characters of a number; what is longer is no number of a design."""

EXAMPLE: Final = "width=300mm..600mm/50mm, rows=1..8 or kind=1,3"

_NUMBER: Final = re.compile(rf"-?\s*(?:{NUMBER_PATTERN})")
_PIECES: Final = re.compile(r'"[^"]*"|\.\.|[\[({]|[\])}]|,|.', re.DOTALL)

Number: TypeAlias = tuple[Quantity, str]
"""A written number: what it is, and the word of its unit, empty for a count."""


def family_of(texts: list[str], fixed: Mapping[str, str]) -> Family:
    """The family that the texts ask for; `fixed` are the values set once for all variants."""
    axes: dict[str, Axis] = {}
    for text in texts:
        name, equals, values = (part.strip() for part in text.partition("="))
        if not (equals and name and values):
            raise Fault(f"--vary takes NAME=VALUES, such as {EXAMPLE}, not `{text}`")
        if name in axes:
            raise Fault(f"--vary gives `{name}` twice; write all its values in one")
        if name in fixed:
            raise Fault(f"`{name}` is both set and varied")
        axes[name] = _axis(name, values)
    family = Family(tuple(axes.values()))
    if family.size > MOST:
        raise Fault(f"that makes {family.size} variants; {MOST} is the most of one sweep")
    return family


def _axis(name: str, values: str) -> Axis:
    parts = list(_parts(values))
    if any(not part for part in parts):
        raise Fault(f"--vary {name} has an empty place between its commas: `{values}`")
    if len(parts) == 1 and _is_range(values):
        return _stepped(name, values)
    return Listed(name, tuple(parts))


def _parts(values: str) -> Iterator[str]:
    """The values between commas, but not those in brackets and quotation marks."""
    part, depth = "", 0
    for piece in _PIECES.findall(values):
        if piece == "," and depth == 0:
            yield part.strip()
            part = ""
            continue
        depth += (piece in "[({") - (piece in "])}")
        part += piece
    yield part.strip()


def _is_range(values: str) -> bool:
    depth = 0
    for piece in _PIECES.findall(values):
        depth += (piece in "[({") - (piece in "])}")
        if piece == ".." and depth == 0:
            return True
    return False


def _stepped(name: str, values: str) -> Stepped:
    """A range, read in the one way in which its numbers go together."""
    start, _, rest = (part.strip() for part in values.partition(".."))
    lo = _number(start)
    read = [(_number(end), _number(step)) for end, step in _ends(rest)]
    whole = _number(rest)
    ways: list[tuple[Number, Number | None]] = [(e, s) for e, s in read if e and s]
    if whole is not None:
        ways.append((whole, None))
    if lo is None or not ways:
        raise Fault(f"--vary {name} takes numbers, such as {EXAMPLE}, not `{values}`")
    for end, step in ways:
        if _alike(lo, end) and (step is None or _alike(end, step)):
            return _counted(name, lo, end, step)
    end, step = ways[0]
    odd = end if not _alike(lo, end) or step is None else step
    kinds = f"{kind_of(lo[0]).value} and {kind_of(odd[0]).value}"
    raise Fault(f"--vary {name} mixes {kinds}: `{values}`")


def _ends(rest: str) -> Iterator[tuple[str, str]]:
    """The ways of taking what follows `..` as an end and a step: a unit and a fraction may hold a
    `/` too."""
    for slash in re.finditer("/", rest):
        yield rest[: slash.start()].strip(), rest[slash.end() :].strip()


def _number(text: str) -> Number | None:
    """A number as a design writes it, with a sign or without; a Fault for a unit not known."""
    if len(text) > LONGEST or not _NUMBER.fullmatch(text):
        return None
    figures = text.removeprefix("-").strip()
    try:
        size, unit = number_value(figures)
        value = quantity(size, unit)
    except ZeroDivisionError:
        return None
    if value is None:
        near = nearest(unit or "", UNITS)
        raise Fault(f"`{unit}` in `{text}` is no unit" + (f": is `{near}` meant?" if near else ""))
    if text.startswith("-") and value is not NOUGHT:
        value = Quantity(-value.number, value.dimension)
    return value, unit or ""


def _alike(one: Number, other: Number) -> bool:
    return matched(one[0], other[0]) is not None


def _counted(name: str, lo: Number, hi: Number, step: Number | None) -> Stepped:
    unit = lo[1] or hi[1] or (step[1] if step else "")
    if step is None:
        if (hi[0] if lo[0] is NOUGHT else lo[0]).dimension != COUNT:
            raise Fault(f"--vary {name} needs a step, such as {name}={_shown(lo, hi)}/10{unit}")
        step = (Quantity(Fraction(1)), "")
    if step[0].number <= 0:
        raise Fault(f"the step of --vary {name} must be more than 0")
    if hi[0].number < lo[0].number:
        raise Fault(f"--vary {name} runs backwards: `{_shown(lo, hi)}` holds no value")
    size = (hi[0].number - lo[0].number) // step[0].number + 1
    one = UNITS[unit].factor if unit else Fraction(1)
    return Stepped(
        name=name, start=lo[0].number / one, step=step[0].number / one, size=size, unit=unit
    )


def _shown(lo: Number, hi: Number) -> str:
    return "..".join(
        written(value.number / (UNITS[unit].factor if unit else 1), unit)
        for value, unit in (lo, hi)
    )
