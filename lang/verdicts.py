"""Does each `test` of a design hold? One verdict a test, and one for the design around them.

Pure: an inspection in, verdicts out. What an expectation does not hold, or cannot be measured, is
found at a place inside its test; boards that overlap or do not go together, and motions that are
blocked, fail the tests that claim otherwise. Everything else that is found fails the design itself,
which is the first verdict.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from ..kernel.design import Design
from ..kernel.expect import Claim, Test
from ..kernel.finding import Finding, Place
from .inspection import Inspection
from .render import Message, messages_of

DENIED: Final[Mapping[str, tuple[str, ...]]] = {
    "no interference": ("F101", "F102"),
    "assembles": ("F101", "F102", "A101", "A201"),
}
"""The findings that a claim denies."""

TRAVELS, BLOCKED = "travels", "A102"
"""The claim of something that it moves freely, and the finding that denies it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """`name` is the test's title, None for the design itself. It holds when nothing was found, and
    is None where the design could not be made out, so that nothing was tried."""

    name: str | None
    messages: tuple[Message, ...]
    was_tried: bool = True

    @property
    def holds(self) -> bool:
        return self.was_tried and not self.messages


def verdicts(
    inspection: Inspection, wanted: Callable[[str], bool] = lambda _: True
) -> tuple[Verdict, ...]:
    """The verdict on the design, then on each of its tests whose title is `wanted`."""
    tests = inspection.design.tests if inspection.design is not None else ()
    about = {id(f) for test in tests for f in inspection.findings if _is_of(test, f)}
    around = tuple(f for f in inspection.findings if id(f) not in about)
    tried = inspection.plan is not None and not any(f.code[0] in "SNUL" for f in around)
    return (
        Verdict(name=None, messages=messages_of(around)),
        *(
            Verdict(
                name=test.name,
                messages=messages_of(_against(test, inspection)),
                was_tried=tried,
            )
            for test in tests
            if wanted(test.name)
        ),
    )


def _against(test: Test, inspection: Inspection) -> tuple[Finding, ...]:
    claims = [e for e in test.expectations if isinstance(e, Claim)]
    denied = {code for claim in claims for code in DENIED.get(claim.words, ())}
    lines = _lines_claimed_free(claims, inspection.design)
    return tuple(
        f
        for f in inspection.findings
        if _is_of(test, f) or f.code in denied or (f.code == BLOCKED and f.place in lines)
    )


def _lines_claimed_free(claims: list[Claim], design: Design | None) -> tuple[Place | None, ...]:
    """The `travel` and `swing` lines that move what is claimed to travel."""
    if design is None:
        return ()
    found = []
    for claim in claims:
        if claim.words == TRAVELS:
            boards = {b.name for b in design.boards if _is_in(b.name, claim.subjects)}
            found += [
                motion.place
                for motion in design.motions
                if boards <= {ref.name for ref in motion.boards}
            ]
    return tuple(found)


def _is_in(board: str, pieces: tuple[str, ...]) -> bool:
    """Whether a board is one of these, or in an assembly that is."""
    return any(board == piece or board.startswith(f"{piece}.") for piece in pieces)


def _is_of(test: Test, finding: Finding) -> bool:
    """Whether the finding is about one of the test's expectations."""
    return any(_inside(finding.place, expectation.place) for expectation in test.expectations)


def _inside(place: Place | None, whole: Place | None) -> bool:
    if place is None or whole is None or place.file != whole.file:
        return False
    return whole.start <= place.start and place.end <= whole.end
