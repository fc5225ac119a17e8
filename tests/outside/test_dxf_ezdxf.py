"""The DXF profiles as another program reads them: soundness, units, layers, arcs, areas.

Read and audited with ezdxf (MIT). It also writes the files, so what is checked here is what was
asked of it: areas are taken from the reader's own curves, bulges against the DXF reference (a
bulge is the tangent of a quarter of the arc's angle, positive counterclockwise).
"""

import io
import math
import os
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import ezdxf
import ezdxf.path
import pytest
from dryfit.kernel.export.dxf import dxf_files
from dryfit.kernel.profile import Operation, board_profile
from dryfit.kernel.region import area, disc, rectangle
from ezdxf.document import Drawing
from ezdxf.entities import DXFGraphic
from ezdxf.math import Vec2
from flat_boards import BITS, PLUS_X, busy_side, cut, plan_of, whole


def read(content: bytes) -> Drawing:
    return ezdxf.read(io.StringIO(content.decode("utf-8")))


def on(document: Drawing, layer: str) -> list[DXFGraphic]:
    return [e for e in document.modelspace() if e.dxf.layer == layer]


def measured(entity: DXFGraphic) -> float:
    """Area of a closed figure: of a circle by its radius, else over points of the reader's own
    curves (it flattens arcs by way of cubics, to some 1e-5 of a small fillet)."""
    if entity.dxftype() == "CIRCLE":
        return math.pi * float(entity.dxf.radius) ** 2
    points = list(ezdxf.path.make_path(entity).flattening(1e-6))
    return abs(sum(Vec2(a).det(Vec2(b)) for a, b in pairwise(points))) / 2


@pytest.fixture(scope="module")
def document() -> Drawing:
    return read(dxf_files(whole(busy_side()))["side.dxf"])


@pytest.fixture(scope="module")
def operations() -> dict[str, Operation]:
    return {o.name: o for o in board_profile(busy_side(), BITS).operations}


def test_the_file_is_sound_and_in_millimetres(document: Drawing) -> None:
    auditor = document.audit()
    assert not auditor.errors
    assert not auditor.fixes
    assert document.dxfversion == "AC1024"
    assert (document.header["$INSUNITS"], document.header["$MEASUREMENT"]) == (4, 1)


def test_layers_are_the_operations_and_what_is_only_read(
    document: Drawing, operations: dict[str, Operation]
) -> None:
    layers = [
        layer.dxf.name for layer in document.layers if layer.dxf.name not in ("0", "Defpoints")
    ]
    assert layers == [*operations, "LABEL", "FACE_B_OUTLINE", "FACE_B_LABEL"]
    assert {e.dxf.layer for e in document.modelspace()} == set(layers)
    assert {layer.dxf.color for layer in document.layers if layer.dxf.name in layers} == {7}


def test_only_the_plainest_entities_are_used_flat_on_the_ground(document: Drawing) -> None:
    kinds = {e.dxftype() for e in document.modelspace()}
    assert kinds == {"LWPOLYLINE", "CIRCLE", "LINE", "TEXT"}
    for entity in document.modelspace().query("LWPOLYLINE"):
        assert entity.closed
        points = entity.get_points("xy")
        assert points[0] != points[-1]
        assert entity.dxf.elevation == 0
    for entity in document.modelspace().query("LINE CIRCLE TEXT"):
        assert entity.dxf.get("extrusion", (0, 0, 1)) == (0, 0, 1)


def test_areas_are_those_of_the_regions(
    document: Drawing, operations: dict[str, Operation]
) -> None:
    for name, operation in operations.items():
        expected = [area(shape.drawn) for shape in operation.shapes]
        assert [measured(e) for e in on(document, name)] == pytest.approx(expected, rel=1e-5)


def test_fillets_are_bulges_of_a_quarter_turn(document: Drawing) -> None:
    """A fillet of the waste is a clockwise quarter turn of the outline: -tan(22.5 degrees)."""
    (outline,) = on(document, "CUT_OUTER")
    bulges = [b for (b,) in outline.get_points("b") if b]
    assert bulges == pytest.approx([-math.tan(math.pi / 8)] * 12)


def test_the_lower_left_of_the_blank_is_the_origin(document: Drawing) -> None:
    (outline,) = on(document, "CUT_OUTER")
    box = ezdxf.path.bbox([ezdxf.path.make_path(outline)])
    assert tuple(box.extmin)[:2] == pytest.approx((0, 0))
    assert tuple(box.extmax)[:2] == pytest.approx((520, 240))


def test_islands_are_figures_of_their_own() -> None:
    ring = disc((100, 100), 40).loops
    hole = tuple(
        reversed([type(e)(e.end, e.start, e.centre, False) for e in disc((100, 100), 10).loops[0]])
    )
    from dryfit.kernel.region import Region

    content = dxf_files(whole(plan_of(cut(PLUS_X, Region((*ring, hole)), 3.0))))["side.dxf"]
    radii = [e.dxf.radius for e in on(read(content), "POCKET_Z3.0")]
    assert radii == pytest.approx([40, 10])


def test_bits_and_joints_stand_in_the_extended_data(document: Drawing) -> None:
    (dado,) = on(document, "POCKET_Z4.0")
    assert [tag.value for tag in dado.get_xdata("DRYFIT")] == ["bit b6", "joint side-shelf"]


def test_the_label_names_the_part_and_shows_the_grain(document: Drawing) -> None:
    texts = [e.dxf.text for e in on(document, "LABEL") if e.dxftype() == "TEXT"]
    assert texts[0] == "side"
    assert texts[1] == "side: 520 x 240 x 12 mm of ply12, grain along the length"
    shaft = next(e for e in on(document, "LABEL") if e.dxftype() == "LINE")
    assert shaft.dxf.start.y == shaft.dxf.end.y


@pytest.mark.parametrize("name", ["%%c^J\\U+0041", "\0\n0\nEOF\n", "\ud800", "è" * 300])
def test_names_are_only_ever_text(name: str) -> None:
    plan = plan_of(cut(PLUS_X, rectangle(10, 10, 20, 20), None, joint=name, bit=name), name=name)
    ((_, content),) = dxf_files(whole(plan)).items()
    document = read(content)
    assert not document.audit().has_errors
    texts = "".join(e.dxf.text for e in on(document, "LABEL") if e.dxftype() == "TEXT")
    assert "%%" not in texts
    assert len(on(document, "CUT_OUTER")) == 1


BYTES = """
import hashlib
from dryfit.kernel.export import export_files
from flat_boards import busy_side, plan_of, whole

plan = whole(busy_side(), plan_of(name="drawer[1].front"))
for name, content in export_files(plan, ("dxf", "svg"), 0.005).items():
    print(name, hashlib.sha256(content).hexdigest())
"""


def test_the_same_board_gives_the_same_bytes_whatever_the_hash_seed() -> None:
    tests = str(Path(__file__).parents[1])
    runs = set()
    for seed in ("0", "4", "77"):  # the library alone gives 0 and 4 different files
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": tests}
        runs.add(subprocess.check_output([sys.executable, "-c", BYTES], env=environment, text=True))
    (text,) = runs
    names = [line.split()[0] for line in text.splitlines()]
    assert names == ["side.svg", "drawer-1-front.svg", "side.dxf", "drawer-1-front.dxf"]


def test_writing_leaves_the_librarys_options_as_they_were() -> None:
    before = ezdxf.options.write_fixed_meta_data_for_testing
    first = dxf_files(whole(busy_side()))
    assert ezdxf.options.write_fixed_meta_data_for_testing == before
    assert dxf_files(whole(busy_side())) == first
