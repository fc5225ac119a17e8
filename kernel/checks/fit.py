"""Do the parts of each joint go into their sockets, at every thickness the yard may deliver?

In: the matings of a plan's joints. A part or socket whose size follows the stock grows and shrinks
with it one for one; the ends of the delivered range hold the worst cases, because a fit is linear
in each thickness. One finding a joint: its worst.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import product

from .. import thresholds
from ..cuts import Mating
from ..finding import Place
from ..plan import CutPlan, Joint
from ..stock import Stock
from .findings import DeliveredStock, FitFinding, FitTooLoose, FitTooTight


@dataclass(frozen=True, slots=True)
class FitCase:
    """A mating at one choice of delivered thicknesses, mm."""

    part_size: float
    socket_size: float
    stocks: tuple[DeliveredStock, ...]

    @property
    def fit(self) -> float:
        return self.socket_size - self.part_size


def fit_findings(plan: CutPlan) -> tuple[FitFinding, ...]:
    """Joints that are too tight or too loose at nominal or at an end of the delivered range."""
    stocks = {stock.name: stock for stock in plan.design.stocks}
    findings = []
    for joint in plan.joints:
        worst = None if joint.failed else _worst(joint, stocks)
        if worst is not None:
            findings.append(worst)
    return tuple(findings)


def _worst(joint: Joint, stocks: Mapping[str, Stock]) -> FitFinding | None:
    """The tightest case below 0, else the loosest past the limit; at nominal if it shows there."""
    cases = [(m, case) for m in joint.matings for case in fit_cases(m, stocks)]
    tight = [(m, c) for m, c in cases if c.fit < -thresholds.SAME]
    loose = [(m, c) for m, c in cases if c.fit > thresholds.LOOSE_FIT + thresholds.SAME]
    if tight:
        found = min(_drawn(tight), key=lambda found: found[1].fit)
        return _finding(FitTooTight, joint, found, 0.0, stocks)
    if loose:
        found = max(_drawn(loose), key=lambda found: found[1].fit)
        return _finding(FitTooLoose, joint, found, thresholds.LOOSE_FIT, stocks)
    return None


def _drawn(cases: list[tuple[Mating, FitCase]]) -> list[tuple[Mating, FitCase]]:
    """Only the cases at nominal thickness if any is among them: then the drawing is wrong, not the
    stock."""
    return [found for found in cases if not found[1].stocks] or cases


def fit_cases(mating: Mating, stocks: Mapping[str, Stock]) -> tuple[FitCase, ...]:
    """The mating at nominal and at every corner of the delivered thicknesses it follows.

    Where part and socket follow the same stock they are taken from one delivery and change alike.
    """
    followed = sorted({n for n in (mating.follows, mating.socket_follows) if n is not None})
    ranges = [_delivered(stocks[name]) for name in followed]
    cases = [FitCase(mating.part_size, mating.socket_size, ())]
    for chosen in product(*ranges):
        change = {s.name: s.thick - s.nominal for s in chosen}
        off = tuple(s for s in chosen if abs(s.thick - s.nominal) > thresholds.SAME)
        if off:
            part = mating.part_size + change.get(mating.follows or "", 0.0)
            socket = mating.socket_size + change.get(mating.socket_follows or "", 0.0)
            cases.append(FitCase(part, socket, off))
    return tuple(cases)


def _delivered(stock: Stock) -> tuple[DeliveredStock, ...]:
    return tuple(
        DeliveredStock(
            name=stock.name,
            place=stock.place,
            nominal=float(stock.thick),
            thick=float(thick),
        )
        for thick in stock.actual
    )


def _finding(
    kind: type[FitFinding],
    joint: Joint,
    found: tuple[Mating, FitCase],
    limit: float,
    stocks: Mapping[str, Stock],
) -> FitFinding:
    mating, case = found
    fit_place = _fit_place(joint)
    fits = [every.fit for every in fit_cases(mating, stocks)]
    spread = max(fits) - min(fits)
    change = -min(fits) if kind is FitTooTight else thresholds.LOOSE_FIT - max(fits)
    return kind(
        place=fit_place or mating.place or joint.join.place,
        joint=joint.name,
        part=mating.part,
        socket=mating.socket,
        axis=mating.axis,
        part_size=case.part_size,
        socket_size=case.socket_size,
        fit=case.fit,
        asked=mating.asked,
        limit=limit,
        spread=spread,
        suits=mating.asked + change if spread <= thresholds.LOOSE_FIT else None,
        stocks=case.stocks,
        fit_place=fit_place,
    )


def _fit_place(joint: Joint) -> Place | None:
    return next((o.whole for o in joint.join.options if o.name == "fit"), None)
