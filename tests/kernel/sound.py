"""What makes a solid fit to be measured? The one assertion, for tests."""

from __future__ import annotations

import numpy as np
from manifold3d import Error, Manifold


def assert_sound(solid: Manifold, *, volume: float, genus: int = 0, lumps: int = 1) -> None:
    """Good status, closed, in `lumps` pieces of `genus` handles together, of `volume` mm3."""
    assert solid.status() == Error.NoError
    assert len(solid.decompose()) == lumps
    assert sum(piece.genus() for piece in solid.decompose()) == genus
    mesh = solid.to_mesh64()
    triangles = np.asarray(mesh.tri_verts, dtype=np.int64)
    edges = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    forth = {tuple(edge) for edge in edges.tolist()}
    assert len(forth) == len(edges), "an edge runs twice the same way"
    assert forth == {(b, a) for a, b in forth}, "an edge has no partner"
    assert abs(solid.volume() - volume) <= 1e-9 * max(volume, 1.0)
