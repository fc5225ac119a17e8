"""Flat booleans and openings against shapely (GEOS), an independent polygon library.

Both sides see arcs as fine polygons; the reference's own chords set what can be asked of it.
"""

from __future__ import annotations

import math

import pytest
from dryfit.kernel.planar import as_cut, difference, intersection, opened, polygons, union
from dryfit.kernel.region import Region, area, disc, rectangle
from dryfit.kernel.relief import Relief, relieved
from flat_regions import SOCKET_BLANK, ell, polygon, square_ring, turned, wedge
from shapely import MultiPolygon, Polygon
from shapely.geometry import box
from shapely.ops import unary_union

CHORD = 1e-5
"""Of the polygons handed to the reference, mm."""

QUARTER = 256
"""Chords to a quarter turn in its own arcs: 5e-5 mm from an arc of radius 3."""

HAIR = 1e-5
"""The reference too must erode by a hair less, or exact slots vanish."""


def seen(region: Region) -> Polygon | MultiPolygon:
    rings = [Polygon(ring) for ring in polygons(region, CHORD)]
    outer = unary_union([r for r in rings if r.exterior.is_ccw])
    return outer.difference(unary_union([r for r in rings if not r.exterior.is_ccw]))


def reference_opening(shape: Polygon | MultiPolygon, radius: float) -> Polygon | MultiPolygon:
    eroded = shape.buffer(HAIR - radius, quad_segs=QUARTER)
    return eroded.buffer(radius - HAIR, quad_segs=QUARTER)


def rim(region: Region) -> float:
    return float(seen(region).length)


SHAPES = [
    rectangle(0, 0, 60, 20),
    turned(rectangle(0, 0, 60, 20), 27.0),
    rectangle(0, 0, 60, 6.5),
    ell(),
    square_ring(),
    wedge(50.0),
    union((rectangle(0, 0, 40, 10), turned(rectangle(0, 0, 40, 10), 30.0), disc((20, 5), 9))),
    union((rectangle(0, 0, 20, 20), rectangle(20, 8, 30, 12), rectangle(30, 0, 50, 20))),
    difference(rectangle(0, 0, 50, 40), union((disc((15, 20), 8), disc((33, 20), 6)))),
    polygon([(0, 0), (40, 0), (30, 12), (50, 30), (20, 24), (0, 35)]),
]


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("radius", [1.5875, 3.0])
def test_openings_agree_with_buffering_in_and_out(shape: Region, radius: float) -> None:
    cut, reference = seen(opened(shape, radius)), reference_opening(seen(shape), radius)
    sagitta = radius * (1 - math.cos(math.pi / (4 * QUARTER)))
    # An eroded corner lies up to a few chord errors off, where the arcs it joins cross flatly.
    assert cut.symmetric_difference(reference).area < rim(shape) * (4 * sagitta + HAIR)


@pytest.mark.parametrize("i", range(len(SHAPES)))
def test_booleans_agree(i: int) -> None:
    a, b = SHAPES[i], SHAPES[(i + 1) % len(SHAPES)]
    s, t = seen(a), seen(b)
    bound = (rim(a) + rim(b)) * CHORD
    assert seen(union((a, b))).symmetric_difference(s.union(t)).area < bound
    assert seen(difference(a, b)).symmetric_difference(s.difference(t)).area < bound
    assert seen(intersection(a, b)).symmetric_difference(s.intersection(t)).area < bound


@pytest.mark.parametrize(
    "asked",
    [
        rectangle(-1, 10, 30, 28),
        rectangle(-1, -1, 20, 15),
        rectangle(-1, 10, 2, 30),
        rectangle(-1, 10, 101, 30),
        rectangle(40, 10, 70, 16.2),  # at 16 exactly the reference drops the slot
        rectangle(-1, 12, 40, 17),
        turned(rectangle(20, -30, 35, 30), 10.0),
        union((rectangle(-1, -1, 20, 41), rectangle(10, 15, 60, 25))),
    ],
)
def test_what_is_cut_beside_air_agrees(asked: Region) -> None:
    blank, radius = (0.0, 0.0, 100.0, 40.0), 3.0
    wanted = seen(asked)
    air = box(-40, -40, 140, 80).difference(box(*blank))
    reference = reference_opening(unary_union([wanted, air]), radius).intersection(wanted)
    cut = seen(as_cut(asked, blank, radius))
    assert cut.symmetric_difference(reference).area < rim(asked) * 2e-4


@pytest.mark.parametrize("relief", list(Relief))
@pytest.mark.parametrize("asked", [rectangle(0, 0, 40, 20), rectangle(0, 0, 30, 8), ell()])
def test_a_relieved_region_is_its_own_opening(asked: Region, relief: Relief) -> None:
    """The cutter can clear every relief: buffering in and out takes nothing away."""
    cut = relieved(asked, SOCKET_BLANK, 3.0, relief)
    shape = seen(cut)
    lost = shape.difference(reference_opening(shape, 3.0))
    assert lost.area < rim(cut) * 1e-4
    assert area(cut) == pytest.approx(shape.area, abs=rim(cut) * CHORD)
