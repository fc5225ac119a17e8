"""What is a finding, and where in a text does it point?

A finding states facts: a code, the place it is about, measured figures, names. It holds no
sentence; `dryfit.lang.messages` puts it into words and `dryfit.lang.render` draws it. Every stage
of the language and of the kernel returns findings instead of raising for what a user wrote.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import ClassVar, Generic, TypeVar

T_co = TypeVar("T_co", covariant=True)


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A half-open run of characters `start..end` in the text of `file`.

    Offsets count characters (code points) from 0. The kernel carries places and never reads them.
    """

    file: str
    start: int
    end: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """The base of every finding: one subclass a code, its fields the facts.

    `place` is where the words are underlined; None when a design was made without text.
    """

    code: ClassVar[str] = ""
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Outcome(Generic[T_co]):
    """What a stage gives: a value, None where it could not make one, and its findings."""

    value: T_co | None
    findings: tuple[Finding, ...] = field(default=())


def in_order(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The findings by file, position and code; those without a place come first."""

    def key(finding: Finding) -> tuple[str, int, int, str, str]:
        place = finding.place or Place("", -1, -1)
        return (place.file, place.start, place.end, finding.code, repr(finding))

    return tuple(sorted(findings, key=key))
