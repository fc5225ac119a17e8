"""What does a piece look like as binary glTF 2.0 (GLB)?

One file for the finished piece and one for each part. A board's mesh lies in its flat frame (see
`scene.py`) in mm; its node puts it down; the root node turns z up into glTF's y up and scales mm
to the metres glTF asks for. So what is in the buffers is what is measured on the bench.

`extras` carry what the geometry comes from: units and chord tolerance in `asset`; on each board's
node its stock, sizes, place in the source and cuts, each cut with the triangles it made; on the
scene its joints. Normals are left out on purpose: glTF then asks for flat shading, and boards are
flat.
"""

from __future__ import annotations

import json
import struct
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from ..cuts import Cut
from ..finding import Place
from ..plan import CutPlan
from ..stock import Stock
from ..tones import linear, wood_tone
from .names import part_stems, scene_stem
from .scene import Meshes, Part, Part32, parts, single_precision

Json: TypeAlias = "dict[str, Json] | list[Json] | str | int | float | bool | None"

_FLOAT, _UNSIGNED = 5126, 5125
_POINTS, _INDICES = 34962, 34963

Y_UP_METRES: list[Json] = [0.001, 0, 0, 0, 0, 0, -0.001, 0, 0, 0.001, 0, 0, 0, 0, 0, 1]
"""Column by column: x stays, our z (up) becomes y, our y (to the back) becomes -z."""


def gltf_files(plan: CutPlan, chord: float) -> dict[str, bytes]:
    """The finished piece first, then a file for each board in the order written."""
    made = parts(plan, chord)
    stems = part_stems(plan)
    files = {f"{scene_stem(plan)}.glb": _file(plan, plan.design.name, made, chord, put=True)}
    for part in made:
        name = part.plan.board.name
        files[f"{stems[name]}.glb"] = _file(plan, name, (part,), chord, put=False)
    return files


def piece_file(plan: CutPlan, meshes: Meshes) -> bytes:
    """The finished piece alone, as `gltf_files` has it at the chord of `meshes`."""
    made = parts(plan, meshes.chord, meshes)
    return _file(plan, plan.design.name, made, meshes.chord, put=True)


def _file(plan: CutPlan, name: str, made: tuple[Part, ...], chord: float, *, put: bool) -> bytes:
    """A GLB; `put` places each board in the piece, else it stays flat at the origin."""
    pool = _Pool()
    stocks = list(dict.fromkeys(part.stock for part in made))
    meshes: list[Json] = []
    root: dict[str, Json] = {"name": _text(name), "matrix": Y_UP_METRES}
    nodes: list[Json] = [root]
    for part in made:
        mesh = single_precision(part, part.points)
        meshes.append(_mesh(part, mesh, pool, stocks.index(part.stock)))
        nodes.append(_node(part, mesh, len(meshes) - 1, put=put))
    document: dict[str, Json] = {
        "asset": {
            "version": "2.0",
            "generator": "dryfit",
            "extras": {"units": "mm", "metres_a_unit": 0.001, "chord": chord},
        },
        "scene": 0,
        "scenes": [{"name": _text(name), "nodes": [0], "extras": {"joints": _joints(plan, made)}}],
        "nodes": nodes,
    }
    if made:
        root["children"] = list(range(1, len(nodes)))
        document |= {
            "materials": [_material(stock) for stock in stocks],
            "meshes": meshes,
            "accessors": pool.accessors,
            "bufferViews": pool.views,
            "buffers": [{"byteLength": len(pool.data)}],
        }
    return _glb(document, bytes(pool.data))


class _Pool:
    """The binary chunk as it grows: equal arrays are stored once."""

    def __init__(self) -> None:
        self.data = bytearray()
        self.views: list[Json] = []
        self.accessors: list[Json] = []
        self._known: dict[tuple[int, bytes], int] = {}

    def points(self, points: NDArray[np.float32]) -> int:
        """The accessor of points (n, 3)."""
        extra: dict[str, Json] = {
            "type": "VEC3",
            "min": [float(c) for c in points.min(axis=0)],
            "max": [float(c) for c in points.max(axis=0)],
        }
        return self._add(points.astype("<f4").tobytes(), len(points), _FLOAT, _POINTS, extra)

    def indices(self, triangles: NDArray[np.int64]) -> int:
        """The accessor of triangles (m, 3)."""
        data = triangles.astype("<u4").tobytes()
        return self._add(data, triangles.size, _UNSIGNED, _INDICES, {"type": "SCALAR"})

    def _add(self, data: bytes, count: int, kind: int, target: int, extra: dict[str, Json]) -> int:
        known = self._known.get((target, data))
        if known is not None:
            return known
        self.views.append(
            {"buffer": 0, "byteOffset": len(self.data), "byteLength": len(data), "target": target}
        )
        self.accessors.append(
            {"bufferView": len(self.views) - 1, "componentType": kind, "count": count, **extra}
        )
        self.data += data  # every element is four bytes, so the next view is aligned
        self._known[target, data] = len(self.accessors) - 1
        return len(self.accessors) - 1


def _mesh(part: Part, mesh: Part32, pool: _Pool, material: int) -> Json:
    return {
        "name": _text(part.plan.board.name),
        "primitives": [
            {
                "attributes": {"POSITION": pool.points(mesh.points)},
                "indices": pool.indices(mesh.triangles),
                "material": material,
                "mode": 4,
            }
        ],
    }


def _node(part: Part, mesh: Part32, number: int, *, put: bool) -> Json:
    node: dict[str, Json] = {"name": _text(part.plan.board.name), "mesh": number}
    if put:
        node["matrix"] = [float(c) + 0.0 for c in part.put.T.reshape(-1)]
    node["extras"] = _provenance(part, mesh)
    return node


def _provenance(part: Part, mesh: Part32) -> Json:
    """What the board is and where each of its faces comes from, lengths in mm."""
    board, run = part.plan.board, part.plan.run
    triangles: dict[int | None, Json] = {
        face.cut: {"first": face.first, "count": face.count} for face in mesh.faces
    }
    none: Json = {"first": 0, "count": 0}
    return {
        "board": _text(board.name),
        "stock": _text(part.stock.name),
        "species": None if part.stock.species is None else _text(part.stock.species),
        "length": part.sizes[0],
        "width": part.sizes[1],
        "thick": part.sizes[2],
        "grain": run.length.letter,
        "place": _place(board.place),
        "blank": triangles.get(None, none),
        "cuts": [
            {**_cut(cut), "triangles": triangles.get(number, none)}
            for number, cut in enumerate(part.plan.cuts)
        ],
    }


def _joints(plan: CutPlan, made: tuple[Part, ...]) -> list[Json]:
    """The joints of the boards in the file; `first` and `second` as the join has them."""
    there = {part.plan.board.name for part in made}
    return [
        {
            "joint": _text(joint.name),
            "family": _text(joint.join.family),
            "first": _text(joint.first.name),
            "second": _text(joint.second.name),
            "bit": None if joint.bit is None else _text(joint.bit),
            "place": _place(joint.join.place),
        }
        for joint in plan.joints
        if there & {joint.first.name, joint.second.name}
    ]


def _cut(cut: Cut) -> dict[str, Json]:
    return {
        "joint": _text(cut.joint),
        "mate": None if cut.mate is None else _text(cut.mate),
        "work": cut.work.value,
        "side": str(cut.side),
        "depth": cut.depth,
        "slant": round(cut.slant, 6),
        "bit": _text(cut.bit),
        "by_hand": cut.by_hand,
        "place": _place(cut.place),
    }


def _place(place: Place | None) -> Json:
    if place is None:
        return None
    return {"file": _text(place.file), "start": place.start, "end": place.end}


def _material(stock: Stock) -> Json:
    return {
        "name": _text(stock.name),
        "pbrMetallicRoughness": {
            "baseColorFactor": [*(round(c, 6) for c in linear(wood_tone(stock))), 1.0],
            "metallicFactor": 0.0,
            "roughnessFactor": 0.85,
        },
    }


def _text(text: str) -> str:
    """A user's word as JSON may hold it: half a surrogate pair is no character."""
    return text.encode("utf-8", "replace").decode()


def _glb(document: dict[str, Json], data: bytes) -> bytes:
    """Header, JSON chunk padded with spaces, binary chunk padded with zeros (glTF 2.0, 4.4)."""
    said = json.dumps(document, ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode()
    chunks = _chunk(b"JSON", said, b" ")
    if data:
        chunks += _chunk(b"BIN\0", data, b"\0")
    return b"glTF" + struct.pack("<II", 2, 12 + len(chunks)) + chunks


def _chunk(kind: bytes, data: bytes, pad: bytes) -> bytes:
    data += pad * (-len(data) % 4)
    return struct.pack("<I", len(data)) + kind + data
