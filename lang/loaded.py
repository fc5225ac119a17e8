"""A design in a Python test: the figures and claims that `expect` knows, with the same words.

    piece = load("seed-tray.dry").piece
    assert piece.holds("assembles")
    assert 0.05 <= piece.measure("fit", "level[1]", "left") <= 0.4

This is a face of the language: it calls the kernel's stages, when first asked.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from ..kernel.design import Design
from ..kernel.expect import Claim, Measure, Test
from ..kernel.finding import Finding, Outcome, Place

if TYPE_CHECKING:
    from ..kernel.kept import Kept
    from ..kernel.plan import CutPlan
    from ..kernel.solids import Bodies

ASKED_HERE = Place("<python>", 0, 0)
"""Where a claim made from Python stands."""


@dataclass(frozen=True, slots=True)
class Loaded(Outcome[Design]):
    """A design read from a file, None where it could not be made out; `findings` say why."""

    @property
    def piece(self) -> Piece:
        """The piece to measure. Raises ValueError, in the words of the findings, where there is no
        design."""
        if self.value is None:
            raise ValueError(_in_words(self.findings))
        return Piece(self.value, self.findings)


class Piece:
    """A design cut, checked and measured, each when first asked for."""

    def __init__(self, design: Design, found: tuple[Finding, ...] = ()) -> None:
        self.design = design
        self._found = found

    @cached_property
    def _planned(self) -> Outcome[CutPlan]:
        from ..kernel.plan import cut_plan

        return cut_plan(self.design)

    @cached_property
    def _kept(self) -> Kept:
        from ..kernel.kept import Kept

        return Kept()

    @property
    def plan(self) -> CutPlan:
        """The cuts of every board. Raises ValueError where none could be made."""
        if self._planned.value is None:
            raise ValueError(_in_words(self._planned.findings))
        return self._planned.value

    @cached_property
    def bodies(self) -> Bodies:
        """The boards as cut, for `dryfit.kernel.measure`."""
        from ..kernel.solids import Bodies

        return Bodies(self.plan, kept=self._kept)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What `dryfit check` finds, in order."""
        from ..kernel.checks import check
        from ..kernel.finding import in_order

        before = self._found + self._planned.findings
        return in_order(before + check(self.plan, self._kept))

    @property
    def messages(self) -> tuple[str, ...]:
        """The same in words, the title of each."""
        return tuple(_in_words((finding,)) for finding in self.findings)

    def measure(self, name: str, *subjects: str) -> float:
        """A figure of the reference's table by name, in mm, mm2, mm3, kg or a count.

        Raises ValueError, in the words of the finding, for what cannot be measured.
        """
        from ..kernel.checks.measures import Bench, Stopped, measured

        bench = Bench(self.bodies, Test(name="", expectations=()))
        got = measured(bench, Measure(name, subjects))
        if isinstance(got, Stopped):
            why = "another finding tells why" if got.finding is None else _in_words((got.finding,))
            raise ValueError(f"{name}({', '.join(subjects)}): {why}")
        return got.number

    def holds(self, claim: str, *subjects: str) -> bool:
        """Whether a claim holds: `no interference`, `assembles`, `fits` with a board and a machine,
        `travels` with a board or an assembly. Raises ValueError for what is no claim."""
        from ..kernel.checks import check
        from ..kernel.checks.expect_findings import NothingToMeasure, UnknownMeasure
        from .inspection import Inspection
        from .render import Pages
        from .verdicts import verdicts

        test = Test(name=claim, expectations=(Claim(claim, ASKED_HERE, subjects),))
        asked = replace(self.design, tests=(test,))
        found = check(replace(self.plan, design=asked), self._kept)
        unknown = [f for f in found if isinstance(f, UnknownMeasure | NothingToMeasure)]
        if unknown:
            raise ValueError(_in_words((unknown[0],)))
        looked = Inspection(
            file=ASKED_HERE.file, findings=found, pages=Pages({}), design=asked, plan=self.plan
        )
        return verdicts(looked)[-1].holds


def _in_words(findings: tuple[Finding, ...]) -> str:
    from .render import messages_of

    return "; ".join(message.words.title for message in messages_of(findings))
