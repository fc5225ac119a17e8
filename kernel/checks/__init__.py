"""What is wrong with the parts as cut?

`check` runs every check over a `CutPlan` in a fixed order. Each body is made at most once; a clean
design never needs more than the twins of boards that come near each other.
"""

from __future__ import annotations

from ..finding import Finding
from ..kept import Kept
from ..plan import CutPlan


def check(plan: CutPlan, kept: Kept | None = None) -> tuple[Finding, ...]:
    """All findings about fit, overlap, thin wood, bits, blanks, ways in and the design's tests.

    Boards that the plan left out and pairs whose joint failed stay silent: a finding told why.
    With what is `kept` of the check before, turned by the caller, only what changed since is worked
    out; the findings are the same.
    """
    from ..solids import Bodies
    from .assembly import assembly_findings
    from .expectations import expectation_findings
    from .findings import FitTooTight
    from .fit import fit_findings
    from .hits import joint_hits
    from .interference import interference, overlaps
    from .reach import reach_findings
    from .size import size_findings
    from .walls import wall_findings

    bodies = Bodies(plan, kept=kept)
    fits = fit_findings(plan)
    found = overlaps(bodies)
    too_tight = [f for f in fits if isinstance(f, FitTooTight)]
    tight = frozenset(f.joint for f in too_tight if not f.stocks)
    return (
        *size_findings(plan),
        *reach_findings(plan),
        *fits,
        *interference(bodies, found, tight),
        *wall_findings(plan, kept),
        *joint_hits(bodies),
        *assembly_findings(bodies, frozenset(f.joint for f in too_tight), overlap=bool(found)),
        *expectation_findings(bodies),
    )
