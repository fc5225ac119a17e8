"""What is wrong with the parts as cut?

`check` runs every check over a `CutPlan` in a fixed order. Each body is made at most once; a clean
design never needs more than the twins of boards that come near each other.
"""

from __future__ import annotations

from ..finding import Finding
from ..plan import CutPlan


def check(plan: CutPlan) -> tuple[Finding, ...]:
    """All findings about fit, overlap, thin wood, bits, blanks and the design's own tests.

    Boards that the plan left out and pairs whose joint failed stay silent: a finding told why.
    """
    from ..solids import Bodies
    from .expectations import expectation_findings
    from .findings import FitTooTight
    from .fit import fit_findings
    from .hits import joint_hits
    from .interference import interference, overlaps
    from .reach import reach_findings
    from .size import size_findings
    from .walls import wall_findings

    bodies = Bodies(plan)
    fits = fit_findings(plan)
    found = overlaps(bodies)
    tight = frozenset(f.joint for f in fits if isinstance(f, FitTooTight) and not f.stocks)
    return (
        *size_findings(plan),
        *reach_findings(plan),
        *fits,
        *interference(bodies, found, tight),
        *wall_findings(plan),
        *joint_hits(bodies),
        *expectation_findings(bodies),
    )
