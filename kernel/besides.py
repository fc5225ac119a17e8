"""What does the piece need besides its boards? Dowels, bolts and the like, counted over all joints.

Pieces of one kind and size are one entry, in the order in which the joints first ask for them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias, assert_never

from .cuts import Ware
from .figures import figure
from .plan import CutPlan

Sizes: TypeAlias = tuple[Fraction, Fraction, Fraction]


@dataclass(frozen=True, slots=True, kw_only=True)
class Besides:
    """`count` like pieces; `sizes` in mm as told at `Ware`, `joints` by family."""

    ware: Ware
    sizes: tuple[Fraction, ...]
    count: int
    families: tuple[str, ...]

    @property
    def is_bought(self) -> bool:
        """False for what is cut from offcuts of the stock."""
        return is_bought(self.ware)

    @property
    def box(self) -> Sizes:
        """Length, width and thickness; of what is round the diameter twice."""
        if len(self.sizes) == 2:
            diameter, length = self.sizes
            return length, diameter, diameter
        thick, width, length = self.sizes
        return length, width, thick

    @property
    def words(self) -> str:
        """`dowel 8 x 30 mm`."""
        return f"{self.ware.value} {' x '.join(map(figure, self.sizes))} mm"


def is_bought(ware: Ware) -> bool:
    match ware:
        case Ware.DOWEL | Ware.CROSS_DOWEL | Ware.BOLT:
            return True
        case Ware.SPLINE | Ware.TENON | Ware.PEG | Ware.SQUARE_PEG | Ware.WEDGE:
            return False
        case _:
            assert_never(ware)


def besides(plan: CutPlan) -> tuple[Besides, ...]:
    """All that the joints of a plan need besides boards."""
    counts: dict[tuple[Ware, tuple[Fraction, ...]], int] = {}
    families: dict[tuple[Ware, tuple[Fraction, ...]], list[str]] = {}
    for joint in plan.joints:
        for piece in joint.hardware:
            key = (piece.ware, piece.sizes)
            counts[key] = counts.get(key, 0) + piece.count
            families.setdefault(key, []).append(joint.join.family)
    return tuple(
        Besides(ware=ware, sizes=sizes, count=count, families=_once(families[ware, sizes]))
        for (ware, sizes), count in counts.items()
    )


def _once(words: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(words))
