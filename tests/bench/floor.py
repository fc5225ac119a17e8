"""The floor a check is measured against: the same booleans, by hand, with the same libraries.

    python floor.py OPERATIONS

OPERATIONS is what `run.py` recorded of a plan: the polygons, depths and pairs, ready made. This
script only imports what a check must import, builds the solids and intersects the same pairs.
"""

import pickle
import sys

import lark  # noqa: F401 - a check imports the parser, so the floor does
import manifold3d
import numpy as np


def prism(loops, axis, lo, hi):
    # The plane's axes follow the swept one in cyclic order; a transform puts (u, v, axis) in place.
    u, v = (axis + 1) % 3, (axis + 2) % 3
    place = np.zeros((3, 4))
    place[u, 0] = place[v, 1] = place[axis, 2] = 1.0
    place[axis, 3] = lo
    section = manifold3d.CrossSection(loops, manifold3d.FillRule.NonZero)
    return section.extrude(hi - lo).transform(place)


def main(path):
    with open(path, "rb") as file:
        boards, pairs = pickle.load(file)  # noqa: S301 - written by run.py a moment ago
    solids = []
    for blank, tools, pose in boards:
        parts = [prism(*blank), *(prism(*tool) for tool in tools)]
        solid = manifold3d.Manifold.batch_boolean(parts, manifold3d.OpType.Subtract)
        solids.append(solid if pose is None else solid.transform(pose))
    meeting = sum(not (solids[i] ^ solids[j]).is_empty() for i, j in pairs)
    print(meeting, "pairs meet")


main(sys.argv[1])
