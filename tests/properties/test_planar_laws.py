"""Laws that flat booleans, openings and reliefs keep for any region."""

from __future__ import annotations

import math

from dryfit.kernel.planar import (
    as_cut,
    cleared,
    difference,
    intersection,
    opened,
    traced_difference,
    traced_intersection,
    traced_opening,
    traced_union,
    union,
)
from dryfit.kernel.region import Line, Region, area, disc, rectangle
from dryfit.kernel.relief import Bite, Relief, inside_corners, relieved
from hypothesis import assume, given, settings
from hypothesis import strategies as st

BLANK = (0.0, 0.0, 60.0, 40.0)
RADII = st.sampled_from([1.5, 1.5875, 2.0, 3.0, 3.175])
ALONG = st.integers(0, 60).map(float) | st.floats(0, 60).map(lambda x: round(x, 3))
SIZES = st.integers(3, 40).map(float) | st.floats(3, 40).map(lambda x: round(x, 3))


@st.composite
def boxes(draw: st.DrawFn) -> Region:
    u, v = draw(ALONG), draw(ALONG)
    return rectangle(u, v, u + draw(SIZES), v + draw(SIZES))


@st.composite
def turned_boxes(draw: st.DrawFn) -> Region:
    (loop,) = draw(boxes()).loops
    angle = math.radians(draw(st.integers(0, 3599)) / 10)
    c, s = math.cos(angle), math.sin(angle)
    corners = [(c * u - s * v, s * u + c * v) for u, v in (edge.start for edge in loop)]
    return Region((tuple(Line(corners[i], corners[(i + 1) % 4]) for i in range(4)),))


@st.composite
def discs(draw: st.DrawFn) -> Region:
    return disc((draw(ALONG), draw(ALONG)), draw(st.integers(2, 15)))


REGIONS = st.lists(boxes() | turned_boxes() | discs(), min_size=1, max_size=5).map(union)

SMALL = 1e-5
"""mm2: a chord of the finest clipping off by one grid step, along a metre of rim."""


@settings(max_examples=60, deadline=None)
@given(REGIONS, REGIONS)
def test_parts_add_up(a: Region, b: Region) -> None:
    (both, e1), (common, e2) = traced_union((a, b)), traced_intersection(a, b)
    (rest, e3) = traced_difference(a, b)
    assert e1
    assert e2
    assert e3
    assert abs(area(a) + area(b) - area(both) - area(common)) < SMALL
    assert abs(area(a) - area(rest) - area(common)) < SMALL


@settings(max_examples=60, deadline=None)
@given(REGIONS, RADII)
def test_an_opening_lies_inside_and_opens_no_further(region: Region, radius: float) -> None:
    cut, exact = traced_opening(region, radius)
    assert exact
    assert area(difference(cut, region)) < 1e-4  # a slot narrower than the bit by a hair
    again = opened(cut, radius)
    assert abs(area(again) - area(cut)) < 1e-4


@settings(max_examples=40, deadline=None)
@given(REGIONS, RADII)
def test_a_wider_cutter_clears_no_more(region: Region, radius: float) -> None:
    assert area(difference(opened(region, radius * 1.5), opened(region, radius))) < 1e-4


@st.composite
def asked_boxes(draw: st.DrawFn) -> Region:
    """A rectangle as joints draw them: each side in wood or 1 mm out in air."""
    u = sorted(draw(st.tuples(st.integers(1, 59), st.integers(1, 59))))
    v = sorted(draw(st.tuples(st.integers(1, 39), st.integers(1, 39))))
    assume(u[0] < u[1] and v[0] < v[1])
    out = draw(st.tuples(st.booleans(), st.booleans(), st.booleans(), st.booleans()))
    return rectangle(
        -1.0 if out[0] else u[0],
        -1.0 if out[1] else v[0],
        61.0 if out[2] else u[1],
        41.0 if out[3] else v[1],
    )


@settings(max_examples=80, deadline=None)
@given(asked_boxes(), RADII)
def test_direct_fillets_are_the_opening(asked: Region, radius: float) -> None:
    direct, general = as_cut(asked, BLANK, radius), cleared(asked, BLANK, radius)
    assert area(difference(direct, general)) < SMALL
    assert area(difference(general, direct)) < SMALL


@settings(max_examples=80, deadline=None)
@given(
    asked_boxes(),
    RADII,
    st.sampled_from([Relief.CORNER, Relief.SIDE, Relief.SWEPT]),
    st.sampled_from(Bite),
)
def test_reliefs_let_a_square_mate_in_and_can_be_cut(
    asked: Region, radius: float, relief: Relief, bite: Bite
) -> None:
    cut = relieved(asked, BLANK, radius, relief, bite)
    again = as_cut(cut, BLANK, radius)
    assert area(difference(cut, again)) < 1e-4
    corners = inside_corners(asked, BLANK)
    if corners and all(min(c.lengths) >= 2 * radius for c in corners):  # the cutter gets in
        assert area(difference(asked, cut)) < SMALL


@settings(max_examples=40, deadline=None)
@given(st.lists(boxes(), min_size=2, max_size=3).map(union), RADII, st.sampled_from(Relief))
def test_reliefs_only_add(asked: Region, radius: float, relief: Relief) -> None:
    plain = as_cut(asked, BLANK, radius)
    cut = relieved(asked, BLANK, radius, relief)
    assert area(difference(plain, cut)) < SMALL
    assert area(difference(intersection(plain, asked), cut)) < SMALL
