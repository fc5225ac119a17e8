"""What does a piece look like as binary STL?

One file for the finished piece and one for each part, lying flat (see `scene.py`). STL has no room
for units, names or joints: the 80 bytes of the header say that lengths are mm, how far chords stray
from arcs, and the name as far as it fits. Bodies that touch stay separate shells.
"""

from __future__ import annotations

import struct

import numpy as np
from numpy.typing import NDArray

from ..figures import mm
from ..plan import CutPlan
from .names import part_stems, scene_stem
from .scene import Part, parts, single_precision

_RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")])


def stl_files(plan: CutPlan, chord: float) -> dict[str, bytes]:
    """The finished piece first, then a file for each board in the order written."""
    made = parts(plan, chord)
    stems = part_stems(plan)
    whole = [_records(part, put=True) for part in made]
    files = {f"{scene_stem(plan)}.stl": _file(plan.design.name, chord, whole)}
    for part in made:
        name = part.plan.board.name
        files[f"{stems[name]}.stl"] = _file(name, chord, [_records(part, put=False)])
    return files


def _file(name: str, chord: float, records: list[NDArray[np.void]]) -> bytes:
    """A header never starts with the word `solid`, by which readers know the text form."""
    said = f"dryfit; lengths in mm; chord {mm(chord, 6)}; {name}"
    header = said.encode("ascii", "replace")[:80].ljust(80)
    count = sum(len(r) for r in records)
    return header + struct.pack("<I", count) + b"".join(r.tobytes() for r in records)


def _records(part: Part, *, put: bool) -> NDArray[np.void]:
    """A record a triangle, with the normal of the rounded corners."""
    mesh = single_precision(part, part.put_points if put else part.points)
    corners = mesh.points[mesh.triangles]
    wide = corners.astype(np.float64)
    normals = np.cross(wide[:, 1] - wide[:, 0], wide[:, 2] - wide[:, 0])
    lengths = np.linalg.norm(normals, axis=1)
    records = np.zeros(len(corners), dtype=_RECORD)
    records["normal"] = normals / np.where(lengths == 0, 1.0, lengths)[:, None]
    records["corners"] = corners
    return records
