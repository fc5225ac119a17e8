"""What is drawn and what is cut are one: the flat profile, built up again in shapely (BSD) from its
outline and pocket depths, weighs and balances as the solid does."""

import numpy as np
import pytest
from dryfit.kernel.planar import polygons
from dryfit.kernel.profile import Face, OperationKind, Profile, board_profile
from dryfit.kernel.region import Region
from dryfit.kernel.solids import Facets, facets, true_body
from dryfit.kernel.views import moved
from flat_boards import BITS, busy_side, plan_of
from shapely import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

CHORD = 0.001


def flat(region: Region) -> BaseGeometry:
    """The region in shapely: outer rings less the rings that run the other way."""
    rings = [Polygon(ring) for ring in polygons(region, CHORD)]
    outer = [ring for ring in rings if ring.exterior.is_ccw]
    return unary_union(outer) - unary_union([ring for ring in rings if not ring.exterior.is_ccw])


def slabs(profile: Profile) -> list[tuple[BaseGeometry, float, float]]:
    """Areas in the view of face A with how far below that face each begins and ends, to be taken
    away from the outline's slab, which comes first."""
    thick, width = float(profile.thick), float(profile.width)
    outline = flat(profile.outline)
    found = [(outline, 0.0, thick)]
    for operation in profile.operations:
        if operation.kind is not OperationKind.POCKET:
            continue
        depth = operation.depth or 0.0
        begin, end = (0.0, depth) if operation.face is Face.A else (thick - depth, thick)
        for shape in operation.shapes:
            region = shape.drawn
            if operation.face is Face.B:
                region = moved(region, lambda p: (p[0], width - p[1]), mirrored=True)
            found.append((flat(region) & outline, begin, end))
    return found


def weighed(mesh: Facets) -> tuple[float, tuple[float, float, float]]:
    """Volume and centre of mass of a closed mesh, by tetrahedra from the origin."""
    a, b, c = np.moveaxis(mesh.points[mesh.triangles], 1, 0)
    weights = np.einsum("ij,ij->i", a, np.cross(b, c)) / 6
    x, y, z = (weights[:, None] * (a + b + c) / 4).sum(axis=0) / weights.sum()
    return float(weights.sum()), (float(x), float(y), float(z))


def test_the_profile_weighs_and_balances_as_the_solid() -> None:
    """Cuts of different depth do not overlap here, so weights add up. The view of +x has x along
    the board's z and y back from its far y."""
    drawn = {"side-top", "foot", "side-back", "pull", "plug", "vent"}
    cuts = [c for c in busy_side().cuts if c.joint in drawn and not c.by_hand]
    plan = plan_of(*cuts)
    volume, (own_x, own_y, own_z) = weighed(facets(true_body(plan, CHORD)))
    outline, *pockets = slabs(board_profile(plan, BITS))
    parts = [(outline, 1.0), *((pocket, -1.0) for pocket in pockets)]

    weights = [sign * flat_area.area * (end - begin) for (flat_area, begin, end), sign in parts]
    x = [flat_area.centroid.x for (flat_area, _, _), _ in parts]
    y = [flat_area.centroid.y for (flat_area, _, _), _ in parts]
    below = [(begin + end) / 2 for (_, begin, end), _ in parts]
    total = sum(weights)
    middle = [sum(w * c for w, c in zip(weights, cs, strict=True)) / total for cs in (x, y, below)]

    assert len(pockets) == 3
    assert total == pytest.approx(volume, rel=1e-6)
    assert middle == pytest.approx([own_z, 240 - own_y, 112 - own_x], abs=1e-4)
