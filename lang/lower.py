"""How do the values of a finished run become a `Design`?

Joins, cuts, motions and tests are resolved here, as all boards are known now; everything else is
only gathered.
"""

from __future__ import annotations

from ..kernel.design import Design
from ..kernel.finding import Place
from .cutting import shaped
from .expectations import tested
from .joins import joined
from .moving import moved
from .run import Run


def lower(run: Run, file: str) -> Design | None:
    """The design that a run has worked out; None when it ended at a limit half-way."""
    taken: dict[str, None] = {}
    joins = [joined(todo, taken, run) for todo in run.joins]
    shapings = [shaped(todo, taken, run) for todo in run.cuts]
    motions = [moved(todo, run) for todo in run.motions]
    tests = [tested(todo, run) for todo in run.tests]
    if run.spent:
        return None
    title = run.title
    return Design(
        name=_stem(file) if title is None else title.title.value,
        stocks=tuple(run.stocks),
        bits=tuple(run.bits),
        machines=tuple(run.machines),
        boards=tuple(run.boards),
        joins=() if run.bits_unsure else tuple(join for join in joins if join is not None),
        shapings=() if run.bits_unsure else tuple(cut for cut in shapings if cut is not None),
        motions=tuple(motion for motion in motions if motion is not None),
        tests=tuple(test for test in tests if test is not None),
        place=Place(file, 0, 0) if title is None else title.place,
    )


def _stem(file: str) -> str:
    """The name of a design without a title: that of its file."""
    name = file.replace("\\", "/").rpartition("/")[2]
    return name.removesuffix(".dry") or "design"
