"""What do flat regions with arcs make together, and what can a round cutter clear of them?

Regions go in and come out as true lines and arcs. The topology is found on polygons by the
clipping part of the solid library (its only use in two dimensions), the coordinates are computed
from the lines and circles themselves (`naming.py`), and each result is compared with its polygon.
Where the two differ by more than chords explain, the polygon itself is the result, as lines.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, Any, TypeAlias

from . import thresholds
from .corners import (
    Bounds,
    blank_bounds,
    clears_rectangle,
    fillet,
    is_rectangle,
    loop_corners,
    with_corners,
)
from .curves import Circle, Curve
from .naming import (
    LEAST_SEGMENTS,
    Chain,
    chains,
    clipping_points,
    exact_loop,
    names_of,
    runs_of,
    sources_of,
)
from .opening import Pieces, eroded_pieces, spread
from .region import Line, Loop, Point2, Region, bounds, rectangle
from .sampling import grown_loop, polygons, segments_per_turn

if TYPE_CHECKING:
    from .sampling import Ring

__all__ = [
    "as_cut",
    "difference",
    "grown_polygons",
    "intersection",
    "opened",
    "polygons",
    "union",
]

Traced: TypeAlias = tuple[Region, bool]
"""A region, and whether its coordinates are exact rather than those of a polygon."""


def union(regions: Sequence[Region]) -> Region:
    """All that lies in any of the regions."""
    return traced_union(regions)[0]


def difference(a: Region, b: Region) -> Region:
    """What of `a` lies outside `b`."""
    return traced_difference(a, b)[0]


def intersection(a: Region, b: Region) -> Region:
    """What lies in both regions."""
    return traced_intersection(a, b)[0]


def opened(region: Region, radius: float) -> Region:
    """All that a disc of `radius` mm can cover without leaving the region.

    A slot exactly as wide as the disc stays; the corners it cannot reach become fillets.
    """
    return traced_opening(region, radius)[0]


def traced_union(regions: Sequence[Region]) -> Traced:
    def clip(chord: float) -> Traced:
        curves, sources = chains(regions, chord)
        every = [chain for loops in sources for chain in loops]
        return _traced(_section(c.points for c in every), curves, every, chord)

    return _refined(clip)


def traced_difference(a: Region, b: Region) -> Traced:
    def clip(chord: float) -> Traced:
        curves, (of_a, of_b) = chains((a, b), chord)
        # One pass: b runs the other way round and takes its turns off those of a.
        loops = [*(c.points for c in of_a), *(c.points[::-1] for c in of_b)]
        return _traced(_section(loops), curves, (*of_a, *of_b), chord)

    return _refined(clip)


def traced_intersection(a: Region, b: Region) -> Traced:
    def clip(chord: float) -> Traced:
        curves, (of_a, of_b) = chains((a, b), chord)
        both = _section(c.points for c in of_a) ^ _section(c.points for c in of_b)
        return _traced(both, curves, (*of_a, *of_b), chord)

    return _refined(clip)


def _refined(clip: Callable[[float], Traced]) -> Traced:
    """The result from coarse chords or, where curves cross so flatly that chords mislead, from
    ones with eight times the segments."""
    region, exact = clip(thresholds.TOPOLOGY_CHORD)
    return (region, exact) if exact else clip(thresholds.TOPOLOGY_CHORD / 64)


def _section(loops: Iterable[Sequence[Point2]]) -> Any:  # the library ships no types
    """The polygons as the clipping library holds them: inside is where they turn round more often
    counterclockwise than clockwise."""
    import numpy as np
    from manifold3d import CrossSection, FillRule

    rings = [np.array(loop) for loop in loops if len(loop) > 2]
    return CrossSection(rings, FillRule.Positive) if rings else CrossSection()


def _traced(
    section: Any, curves: Sequence[Curve], sources: Sequence[Chain], chord: float
) -> Traced:
    rings = section.to_polygons()
    if not rings:
        return Region(), True
    table = sources_of(sources)
    loops: list[Loop] = []
    for ring in rings:
        loop = exact_loop(runs_of(ring, names_of(ring, table)), curves)
        if loop is None:
            return as_lines(rings), False
        if loop:
            loops.append(loop)
    region = Region(tuple(loops))
    curved = any(isinstance(curve, Circle) for curve in curves)
    slack = thresholds.TOPOLOGY_CHORD if curved else 2 * thresholds.LEAST_RUN
    return (region, True) if _agrees(region, section, chord, slack) else (as_lines(rings), False)


def as_lines(rings: Sequence[Ring]) -> Region:
    """The polygons as a region of straight lines."""
    loops = []
    for ring in rings:
        points = [(float(p[0]), float(p[1])) for p in ring]
        loops.append(
            tuple(Line(a, b) for a, b in zip(points, [*points[1:], points[0]], strict=True))
        )
    return Region(tuple(loops))


def _agrees(region: Region, section: Any, chord: float, slack: float) -> bool:
    """Whether region and polygons differ by nothing thicker than twice the slack, mm."""
    from manifold3d import JoinType

    mine = _section(outline(region, chord))
    for extra in (mine - section, section - mine):
        if extra.area() > thresholds.SAME and not extra.offset(-slack, JoinType.Miter).is_empty():
            return False
    return True


def outline(region: Region, chord: float, reach: float = 0.0) -> list[list[Point2]]:
    """The vertices to clip the region with; see `clipping_points`."""
    return [
        [point for edge in loop for point in clipping_points(edge, chord, reach)]
        for loop in region.loops
    ]


def traced_opening(region: Region, radius: float) -> Traced:
    """`opened`, and whether it is exact."""
    if region.is_empty:
        return region, True
    return _refined(lambda chord: _clipped_opening(region, radius, chord))


def _clipped_opening(region: Region, radius: float, chord: float) -> Traced:
    from manifold3d import JoinType

    pieces = eroded_pieces(region, radius, chord)
    loops = outline(region, chord, radius)
    eroded = _section([*loops, *(c.points for c in pieces.chains)])
    rings = eroded.to_polygons()
    if not rings:
        return Region(), True
    turn = max(LEAST_SEGMENTS, segments_per_turn(radius, chord))
    polygon = eroded.offset(radius, JoinType.Round, 2.0, turn)
    exact = _spread_rings(rings, pieces, radius)
    if exact is not None:
        settled, sure = _settled(exact, chord)
        if sure and _agrees(settled, polygon, chord, thresholds.TOPOLOGY_CHORD):
            return settled, True
    return as_lines((polygon ^ _section(loops)).to_polygons()), False


def _spread_rings(rings: Sequence[Ring], pieces: Pieces, radius: float) -> Region | None:
    table = sources_of(pieces.chains)
    loops: list[Loop] = []
    for ring in rings:
        loop = spread(runs_of(ring, names_of(ring, table)), pieces.walls, radius)
        if loop is None:
            return None
        if loop:
            loops.append(loop)
    return Region(tuple(loops))


def _settled(region: Region, chord: float) -> Traced:
    """The region with overlaps of its loops joined: the two sides of a neck narrower than the
    cutter are each swept a little way into it and may meet."""
    loops = outline(region, chord)
    drawn = sum(_polygon_area(loop) for loop in loops)
    if abs(_section(loops).area() - drawn) < thresholds.SAME * max(1.0, drawn):
        return region, True
    return traced_union((region,))


def _polygon_area(points: Sequence[Point2]) -> float:
    pairs = zip(points, [*points[1:], points[0]], strict=True)
    return sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs) / 2


def as_cut(asked: Region, blank: Region | Bounds, radius: float) -> Region:
    """The part of `asked` that a cutter of `radius` mm really clears, air round the blank being
    open to it.

    `blank` is a rectangle square to the axes. Where `asked` runs out into air it is best drawn
    `thresholds.OVERSHOOT` past the blank. Empty where the cutter does not get in.
    """
    limits = blank_bounds(blank)
    direct = filleted(asked, limits, radius)
    return direct if direct is not None else cleared(asked, limits, radius)


def filleted(asked: Region, limits: Bounds, radius: float) -> Region | None:
    """`as_cut` of a rectangle in closed form; None where it takes more than a fillet a corner."""
    if not is_rectangle(asked) or not clears_rectangle(asked, limits, radius):
        return None
    corners = loop_corners(asked.loops[0], limits)
    if any(c is not None and min(c.lengths) < radius for c in corners):
        return None
    rounded = {i: fillet(c, radius) for i, c in enumerate(corners) if c is not None}
    loop = with_corners(asked.loops[0], rounded)
    return None if loop is None else Region((loop,))


def cleared(asked: Region, limits: Bounds, radius: float) -> Region:
    """`as_cut` of any region: opened together with the air round the blank."""
    if asked.is_empty:
        return asked
    u0, v0, u1, v1 = limits
    a0, b0, a1, b1 = bounds(asked)
    far = 4 * radius + 10
    sky = rectangle(min(u0, a0) - far, min(v0, b0) - far, max(u1, a1) + far, max(v1, b1) + far)
    wood = difference(rectangle(*limits), asked)
    return intersection(opened(difference(sky, wood), radius), asked)


def grown_polygons(region: Region, by: float, chord: float) -> tuple[Ring, ...]:
    """The region grown by `by` mm (0 or more) with mitred corners, as polygons.

    Arcs keep their centres and as many parts as `polygons` gives them. Loops run as in the region;
    they may overlap where it leaves gaps narrower than twice `by`, so read them as inside where
    they turn round counterclockwise.
    """
    import numpy as np

    if by == 0:
        return polygons(region, chord)
    loops = [grown_loop(loop, by, chord) for loop in region.loops]
    if all(loop is not None for loop in loops):
        return tuple(np.array(loop) for loop in loops)
    return _offset_polygons(region, by, chord)


def _offset_polygons(region: Region, by: float, chord: float) -> tuple[Ring, ...]:
    """The same by the clipping library, for loops with edges too short to move one by one."""
    from manifold3d import CrossSection, FillRule, JoinType

    section = CrossSection(list(polygons(region, chord)), FillRule.Positive)
    grown = section.offset(by, JoinType.Miter, 10.0)
    return tuple(grown.to_polygons())
