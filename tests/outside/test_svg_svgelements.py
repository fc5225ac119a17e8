"""The SVG profiles as another program reads them: sizes, arcs, areas, groups.

Read with svgelements (MIT), which knows units, view boxes and elliptical arcs on its own; at 25.4
pixels to the inch its coordinates are millimetres of the page, but for its millimetre, which it
takes as 0.0393701 in: 5.4e-7 too long.
"""

import io
import math
import re
import xml.etree.ElementTree as ET
from collections import Counter

import pytest
import svgelements
from dryfit.kernel.board import Axis
from dryfit.kernel.cuts import Side
from dryfit.kernel.export.svg import svg_files
from dryfit.kernel.planar import union
from dryfit.kernel.profile import Operation, board_profile
from dryfit.kernel.region import area, bounds, disc, rectangle
from flat_boards import BITS, PLUS_X, busy_side, cut, plan_of, whole

NAMESPACE = "{http://www.w3.org/2000/svg}"


def shapes(text: bytes) -> dict[str, list[svgelements.Path]]:
    """The closed figures by group, in millimetres of the page."""
    found: dict[str, list[svgelements.Path]] = {}
    page = svgelements.SVG.parse(io.BytesIO(text), ppi=25.4)
    for group in page.select(lambda e: isinstance(e, svgelements.Group) and e.id is not None):
        figures = [e for e in group if isinstance(e, svgelements.Shape)]
        found[group.id] = [svgelements.Path(e) for e in figures]
    return found


def measured(path: svgelements.Path) -> float:
    """Area within each closed run, holes taken off: shoelace over points of the reader's own
    curves, corrected for the segment between each short chord and its arc."""
    total = 0.0
    for run in path.as_subpaths():
        points: list[complex] = []
        for segment in svgelements.Path(run):
            steps = 400 if isinstance(segment, svgelements.Arc) else 1
            if isinstance(segment, (svgelements.Arc, svgelements.Line, svgelements.Close)):
                found = (segment.point(i / steps) for i in range(steps))
                points += [complex(float(p.x), float(p.y)) for p in found]
        pairs = zip(points, points[1:] + points[:1], strict=True)
        total += sum((a.conjugate() * b).imag for a, b in pairs) / 2
    return abs(total)


@pytest.fixture(scope="module")
def text() -> bytes:
    return svg_files(whole(busy_side()))["side.svg"]


@pytest.fixture(scope="module")
def operations() -> dict[str, Operation]:
    return {o.name: o for o in board_profile(busy_side(), BITS).operations}


def test_the_outline_is_as_long_and_wide_as_the_board(text: bytes) -> None:
    (outline,) = shapes(text)["CUT_OUTER"]
    x0, y0, x1, y1 = outline.bbox()
    assert (x1 - x0, y1 - y0) == pytest.approx((520, 240), rel=1e-6)


def test_a_page_is_as_large_as_it_says_and_holds_all_that_is_drawn(text: bytes) -> None:
    root = ET.fromstring(text)  # noqa: S314 (our own bytes)
    box = [float(v) for v in root.attrib["viewBox"].split()]
    assert (root.attrib["width"], root.attrib["height"]) == (f"{box[2]:g}mm", f"{box[3]:g}mm")
    for figures in shapes(text).values():
        for figure in figures:
            x0, y0, x1, y1 = figure.bbox()
            assert min(x0, y0) > 0
            assert x1 < box[2]
            assert y1 < box[3]


def test_areas_are_those_of_the_regions(text: bytes, operations: dict[str, Operation]) -> None:
    drawn = shapes(text)
    for name, operation in operations.items():
        expected = [area(shape.drawn) for shape in operation.shapes]
        assert [measured(path) for path in drawn[name]] == pytest.approx(expected, rel=1e-5)


def test_arcs_stay_arcs_of_the_bits_radius(text: bytes) -> None:
    (outline,) = shapes(text)["CUT_OUTER"]
    arcs = [s for s in outline if isinstance(s, svgelements.Arc)]
    assert len(arcs) == 6 + 6
    assert [r for a in arcs for r in (a.rx, a.ry)] == pytest.approx([3] * 24, abs=1e-3)
    assert all(abs(a.sweep) == pytest.approx(math.pi / 2, abs=1e-3) for a in arcs)


def test_work_on_face_b_is_turned_over_about_the_length(
    text: bytes, operations: dict[str, Operation]
) -> None:
    """Where the pull lies against the outline repeated for face B, measured on the page."""
    drawn = shapes(text)
    (pull,) = drawn["FACE_B_POCKET_Z6.35"]
    left, _, _, lower = drawn["FACE_B_OUTLINE"][0].bbox()
    x0, y0, x1, y1 = pull.bbox()
    # on -x, up -x and along z, y of the view is the board's own: 60..100, at z 300..350
    assert (x0 - left, x1 - left) == pytest.approx((300, 350), abs=1e-3)
    assert (lower - y1, lower - y0) == pytest.approx((60, 100), abs=1e-3)
    assert bounds(operations["FACE_B_POCKET_Z6.35"].shapes[0].region) == pytest.approx(
        (300, 60, 350, 100)
    )


def test_half_turns_keep_their_place_to_the_last_written_digit() -> None:
    """A slot with round ends: an arc told by its ends alone is badly placed near a half turn."""
    radius = 2 / 3 + 3
    ends = [disc((120.12345678, z), radius) for z in (100.1, 300.7)]
    slot = rectangle(120.12345678 - radius, 100.1, 120.12345678 + radius, 300.7)

    region = union([*ends, slot])
    (figure,) = shapes(svg_files(whole(plan_of(cut(PLUS_X, region, 3.0))))["side.svg"])[
        "POCKET_Z3.0"
    ]
    x0, y0, x1, y1 = figure.bbox()
    assert (x1 - x0, y1 - y0) == pytest.approx((200.6 + 2 * radius, 2 * radius), abs=3e-4)
    assert measured(figure) == pytest.approx(area(region), rel=1e-5)


def test_a_full_circle_is_a_circle(text: bytes) -> None:
    root = ET.fromstring(text)  # noqa: S314 (our own bytes)
    radii = [float(e.attrib["r"]) for e in root.iter(f"{NAMESPACE}circle")]
    assert sorted(radii) == [10, 20]


def test_numbers_are_plain_and_short(text: bytes) -> None:
    root = ET.fromstring(text)  # noqa: S314 (our own bytes)
    geometry = [
        e.attrib[key]
        for e in root.iter()
        for key in ("d", "x", "y", "cx", "cy", "r", "viewBox", "width", "height")
        if key in e.attrib
    ]
    assert not [g for g in geometry if re.search(r"\d[eE]|\.\d{5}|-0(?![.\d])", g)]
    commands = {c for g in geometry for c in re.findall(r"[A-Za-z]+", g)}
    assert commands <= {"M", "L", "A", "Z", "mm"}
    assert not [e for e in root.iter() if {"transform", "style", "class"} & set(e.attrib)]


def test_every_line_has_the_same_colour(text: bytes) -> None:
    assert set(re.findall(rb'stroke="(#[^"]*)"', text)) == {b"#23211E"}


HOSTILE = '</svg><script>alert("x")</script>\0&amp;\ud800 \' ]]> \N{RIGHT-TO-LEFT OVERRIDE}'


def test_names_are_only_ever_text() -> None:
    plan = busy_side(HOSTILE)
    cuts = tuple(
        cut(c.side, c.region, c.depth, joint=f'j"<{HOSTILE}', bit='b"6') for c in plan.cuts
    )
    files = svg_files(whole(plan_of(*cuts, name=HOSTILE)))
    ((name, text),) = files.items()
    root = ET.fromstring(text)  # noqa: S314 (our own bytes)
    assert re.fullmatch(r"[\w-]+\.svg", name)
    assert not list(root.iter(f"{NAMESPACE}script"))
    title = root.find(f"{NAMESPACE}title")
    assert title is not None
    assert title.text == HOSTILE.replace("\0", "\ufffd").replace("\ud800", "\ufffd")
    ids = Counter(e.attrib["id"] for e in root.iter() if "id" in e.attrib)
    assert max(ids.values()) == 1
    assert all(re.fullmatch(r"[\w.-]+", found) for found in ids)


def test_every_board_has_a_file_of_its_own() -> None:
    one = cut(Side(Axis.X, True), rectangle(10, 10, 20, 20), None)
    boards = [plan_of(one, name=name) for name in ("drawer[1].front", "drawer.1.front", "A", "a")]
    assert list(svg_files(whole(*boards))) == [
        "drawer-1-front.svg",
        "drawer-1-front-2.svg",
        "A.svg",
        "a-2.svg",
    ]
