"""What stands on the page of a joint or a cut? Gathered from the kernel and from what we say of it.

Pure: the texts that belong to the page come in, read by `explain.py`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from ...kernel.design import Design
from ...kernel.faults import InternalError
from ...kernel.plan import CutPlan
from ..codes import CODES
from ..files import MemoryFiles
from ..inspection import Inspection, Request, planned
from ..messages.reference import Compares, OptionLine, Subject, reference_page
from ..pages import Page
from ..prose import read_prose

if TYPE_CHECKING:
    from ...kernel.compared import Compared
    from ...kernel.finding import Finding
    from ...kernel.joints.family import Family
    from ...kernel.joints.options import OptionSpec
    from ...kernel.shaping.family import ShapingFamily


@dataclass(frozen=True, slots=True, kw_only=True)
class Texts:
    """What we say of a joint or cut, its smallest program, that whose reliefs are compared where it
    is another, and the programs of its other kinds by name."""

    prose: str
    program: str
    reliefs: str | None = None
    kinds: tuple[tuple[str, str], ...] = ()


def joint_page(family: Family[Any], texts: Texts) -> Page:
    """The page of a family of joints; InternalError where its program is not clean."""
    from ...kernel.reference import facts_of_joint
    from ...kernel.reported import OF_A_FIT, OF_A_JOINT, OF_ANY_CUT, reported

    plan = plan_of(family.name, texts.program)
    joint = plan.joints[0]
    as_cut = (*OF_ANY_CUT, *OF_A_JOINT, *(OF_A_FIT if joint.matings else ()))
    return reference_page(
        Subject(
            title=family.title,
            words=family.words,
            written=tuple(f"join A {verb.value} B with {family.name}" for verb in family.verbs),
            options=_options(family.options),
            prose=read_prose(texts.prose, family.name),
            facts=facts_of_joint(plan),
            compares=_compares(family, plan, texts),
            checks=_summaries(reported(family)),
            as_cut=_summaries(as_cut if joint.cuts else ()),
            program=texts.program,
            kinds=tuple((name, plan_of(name, text).design.name) for name, text in texts.kinds),
            pictures=(
                (f"{family.name}-closed.svg", f"{family.title}, closed"),
                (f"{family.name}-apart.svg", f"{family.title}, drawn apart"),
            ),
        )
    )


def cut_page(family: ShapingFamily[Any], texts: Texts) -> Page:
    """The page of a kind of cut; InternalError where its program is not clean."""
    from ...kernel.reference import facts_of_cut
    from ...kernel.reported import OF_ANY_CUT, reported

    return reference_page(
        Subject(
            title=family.title,
            words=family.words,
            written=(family.written,),
            options=_options(family.options),
            prose=read_prose(texts.prose, family.name),
            facts=facts_of_cut(plan_of(family.name, texts.program)),
            compares=None,
            checks=_summaries(reported(family)),
            as_cut=_summaries(OF_ANY_CUT),
            program=texts.program,
            kinds=(),
            pictures=(),
        )
    )


def _options(specs: tuple[OptionSpec[Any], ...]) -> tuple[OptionLine, ...]:
    return tuple(
        OptionLine(name=s.name, form=s.form, default=s.shown, words=s.words) for s in specs
    )


def plan_of(name: str, program: str) -> CutPlan:
    """The plan of a program that shows a joint or a cut; InternalError where it is not clean."""
    file = f"{name}.dry"
    got: Inspection = planned(Request(file=file), MemoryFiles({file: program}))
    if got.plan is None or got.findings:
        raise InternalError(f"the program of {name} is not clean")
    return got.plan


def _compares(family: Family[Any], plan: CutPlan, texts: Texts) -> Compares | None:
    """The reliefs of a joint, None where it takes none."""
    from ...kernel.compared import compared, reliefs_of

    if not reliefs_of(family.name):
        return None
    on = plan if texts.reliefs is None else plan_of(family.name, texts.reliefs)
    rows = compared(on.design)
    return Compares(
        on=on.design.name,
        is_smallest=texts.reliefs is None,
        bits=_bits(on.design, on),
        rows=rows,
        codes=tuple(_found(row) for row in rows),
    )


def _found(row: Compared) -> tuple[str, ...]:
    return tuple(dict.fromkeys(finding.code for finding in row.findings))


def _bits(design: Design, plan: CutPlan) -> tuple[float, ...]:
    """The diameters of the bits that the first joint is cut with on the machine, mm."""
    used = {cut.bit for cut in plan.joints[0].cuts if not cut.by_hand}
    return tuple(float(bit.diameter) for bit in design.bits if bit.name in used)


def _summaries(classes: Iterable[type[Finding]]) -> tuple[tuple[str, str], ...]:
    """Each code with its line of words, in the order of the table."""
    wanted = {one.code for one in classes}
    return tuple((entry.code, entry.summary) for entry in CODES if entry.code in wanted)
