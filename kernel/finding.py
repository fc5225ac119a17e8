"""What is a finding, and where in a text does it point?

A finding states facts: a code, the place it is about, measured figures, names. It holds no
sentence; `dryfit.lang.messages` puts it into words and `dryfit.lang.render` draws it. Every stage
of the language and of the kernel returns findings instead of raising for what a user wrote.
"""

from __future__ import annotations

from dataclasses import MISSING, dataclass, field, fields
from typing import Any, ClassVar, Generic, NoReturn, TypeVar, dataclass_transform

F = TypeVar("F")
T_co = TypeVar("T_co", covariant=True)


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A half-open run of characters `start..end` in the text of `file`.

    Offsets count characters (code points) from 0. The kernel carries places and never reads them.
    """

    file: str
    start: int
    end: int


@dataclass_transform(frozen_default=True, kw_only_default=True)
def facts(cls: type[F]) -> type[F]:
    """The class as a record of facts: frozen, slotted, fields by keyword, as a dataclass is.

    Its methods are `Finding`'s and not written anew for each class: some two hundred classes are
    defined on every start, and a clean design needs none of them.
    """
    cls.__doc__ = cls.__doc__ or cls.__name__
    return dataclass(init=False, repr=False, eq=False, slots=True, kw_only=True)(cls)


@facts
class Finding:
    """The base of every finding: one subclass a code, its fields the facts.

    `place` is where the words are underlined; None when a design was made without text.
    """

    code: ClassVar[str] = ""
    place: Place | None = None

    def __init__(self, **given: Any) -> None:
        for known in fields(self):
            if known.name in given:
                value = given.pop(known.name)
            elif known.default is not MISSING:
                value = known.default
            else:
                raise TypeError(f"{type(self).__name__} wants a value for {known.name!r}")
            object.__setattr__(self, known.name, value)
        if given:
            raise TypeError(f"{type(self).__name__} has no field {min(given)!r}")

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError(f"{name!r} of a finding cannot change")

    def __delattr__(self, name: str) -> NoReturn:
        raise AttributeError(f"{name!r} of a finding cannot go")

    def _facts(self) -> tuple[object, ...]:
        return tuple(getattr(self, known.name) for known in fields(self))

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and self._facts() == other._facts()

    def __hash__(self) -> int:
        return hash((type(self), self._facts()))

    def __repr__(self) -> str:
        told = (f"{known.name}={getattr(self, known.name)!r}" for known in fields(self))
        return f"{type(self).__qualname__}({', '.join(told)})"


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
