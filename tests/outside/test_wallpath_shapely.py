"""The bit's turns at once along the walls, against where another library's eroded outline turns.

Eroding a cut by the bit's radius leaves all that the centre can reach. Its outline rolls round
edges of wood, where ours goes straight on, but it turns back, or into the other wall, at the same
places: in every fillet and at the end of every relief.
"""

from __future__ import annotations

import math

import pytest
from dryfit.kernel.planar import polygons
from dryfit.kernel.region import Region, rectangle
from dryfit.kernel.relief import Relief, relieved
from dryfit.kernel.wallpath import changes
from flat_regions import SOCKET_BLANK, wedge
from shapely.geometry import Polygon

HAIR = 0.001
"""How much less than the radius is eroded, mm: reliefs stay as channels twice as wide."""


def turned_at(cut: Region, radius: float) -> list[float]:
    """How far the eroded outline turns left, degrees, at each place where it does so by more than
    15 within a few hairs."""
    (ring,) = polygons(cut, 1e-5)
    eroded = Polygon(ring).buffer(-(radius - HAIR), quad_segs=200)
    points = list(eroded.exterior.coords)[:-1]
    if not Polygon(points).exterior.is_ccw:
        points.reverse()
    longest = max(range(len(points)), key=lambda i: math.dist(points[i - 1], points[i]))
    points = [*points[longest:], *points[:longest]]
    found: list[list[float]] = []
    last: tuple[float, float] | None = None
    for i, here in enumerate(points):
        before, after = points[i - 1], points[(i + 1) % len(points)]
        turn = heading(here, after) - heading(before, here)
        turn = (turn + math.pi) % (2 * math.pi) - math.pi
        if last is None or math.dist(last, here) > 5 * HAIR:
            found.append([])
        found[-1].append(math.degrees(turn))
        last = here
    return sorted(total for turns in found if (total := sum(turns)) > 15)


def heading(a: tuple[float, float], b: tuple[float, float]) -> float:
    return math.atan2(b[1] - a[1], b[0] - a[0])


@pytest.mark.parametrize("radius", [1.5875, 3.0, 3.175])
@pytest.mark.parametrize("relief", [Relief.NONE, Relief.CORNER, Relief.SIDE])
@pytest.mark.parametrize(
    "asked", [rectangle(0, 0, 40, 20), rectangle(0, 0, 17.3, 29.1), wedge(60), wedge(110)]
)
def test_it_turns_where_an_eroded_outline_does(
    asked: Region, relief: Relief, radius: float
) -> None:
    cut = relieved(asked, SOCKET_BLANK, radius, relief)
    ours = sorted(
        c.degrees for c in changes(cut, SOCKET_BLANK, radius) if c.at_once and c.degrees > 15
    )
    theirs = turned_at(cut, radius)
    assert len(ours) == len(theirs)
    assert ours == pytest.approx(theirs, abs=3.0)
