"""What does a piece look like as 3MF?

One file for the finished piece and one for each part, lying flat (see `scene.py`), written after
the 3MF Core Specification 1.3 by hand: three small files in a zip whose dates are all the first
one a zip can hold, so that equal pieces give equal bytes. Lengths are mm, objects carry the boards'
names, materials the stocks' names and tones. Metadata say how far chords stray from arcs.
"""

from __future__ import annotations

import io
import zipfile

import numpy as np
from numpy.typing import NDArray

from ..figures import figure, mm
from ..plan import CutPlan
from ..stock import Stock
from ..tones import hex_of, wood_tone
from ..xmltext import xml_text
from .names import part_stems, scene_stem
from .scene import Part, parts, single_precision

_CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
_TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
_LINKS = "http://schemas.openxmlformats.org/package/2006/relationships"
_START = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'

_CONTENT_TYPES = (
    f'{_HEAD}<Types xmlns="{_TYPES}">'
    '<Default Extension="rels"'
    ' ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model"'
    ' ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>'
    "</Types>\n"
)
_RELATIONS = (
    f'{_HEAD}<Relationships xmlns="{_LINKS}">'
    f'<Relationship Target="/3D/3dmodel.model" Id="rel0" Type="{_START}"/>'
    "</Relationships>\n"
)


def threemf_files(plan: CutPlan, chord: float) -> dict[str, bytes]:
    """The finished piece first, then a file for each board in the order written."""
    made = parts(plan, chord)
    stems = part_stems(plan)
    files = {f"{scene_stem(plan)}.3mf": _file(plan.design.name, made, chord, put=True)}
    for part in made:
        name = part.plan.board.name
        files[f"{stems[name]}.3mf"] = _file(name, (part,), chord, put=False)
    return files


def _file(name: str, made: tuple[Part, ...], chord: float, *, put: bool) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as box:
        for path, text in (
            ("[Content_Types].xml", _CONTENT_TYPES),
            ("_rels/.rels", _RELATIONS),
            ("3D/3dmodel.model", _model(name, made, chord, put=put)),
        ):
            box.writestr(_entry(path), text.encode())
    return packed.getvalue()


def _entry(path: str) -> zipfile.ZipInfo:
    """An entry that tells nothing of when and where it was written."""
    entry = zipfile.ZipInfo(path, date_time=(1980, 1, 1, 0, 0, 0))
    entry.compress_type = zipfile.ZIP_DEFLATED
    entry.create_system = 3
    entry.external_attr = 0o644 << 16
    return entry


def _model(name: str, made: tuple[Part, ...], chord: float, *, put: bool) -> str:
    stocks = list(dict.fromkeys(part.stock for part in made))
    objects = "".join(
        _object(number, part, stocks.index(part.stock)) for number, part in enumerate(made, 2)
    )
    items = "".join(_item(number, part, put=put) for number, part in enumerate(made, 2))
    return (
        f'{_HEAD}<model unit="millimeter" xml:lang="en" xmlns="{_CORE}">\n'
        f'<metadata name="Title">{xml_text(name)}</metadata>\n'
        '<metadata name="Application">dryfit</metadata>\n'
        f'<metadata name="Description">chord {mm(chord, 6)}</metadata>\n'
        f"<resources>\n{_materials(stocks)}{objects}</resources>\n"
        f"<build>{items}</build>\n</model>\n"
    )


def _materials(stocks: list[Stock]) -> str:
    if not stocks:
        return ""
    bases = "".join(
        f'<base name="{xml_text(stock.name)}" displaycolor="{hex_of(wood_tone(stock))}"/>'
        for stock in stocks
    )
    return f'<basematerials id="1">{bases}</basematerials>\n'


def _object(number: int, part: Part, material: int) -> str:
    mesh = single_precision(part, part.points)
    return (
        f'<object id="{number}" type="model" name="{xml_text(part.plan.board.name)}"'
        f' pid="1" pindex="{material}"><mesh>\n'
        f"<vertices>{_vertices(mesh.points)}</vertices>\n"
        f"<triangles>{_triangles(mesh.triangles)}</triangles>\n"
        "</mesh></object>\n"
    )


def _vertices(points: NDArray[np.float32]) -> str:
    values, places = np.unique(points, return_inverse=True)
    written = [figure(float(value), 6) for value in values]
    return "".join(
        f'<vertex x="{written[x]}" y="{written[y]}" z="{written[z]}"/>'
        for x, y, z in places.reshape(-1, 3).tolist()
    )


def _triangles(triangles: NDArray[np.int64]) -> str:
    return "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in triangles.tolist())


def _item(number: int, part: Part, *, put: bool) -> str:
    """The object put down: the transform lists the images of x, y and z, then the shift."""
    if not put:
        return f'<item objectid="{number}"/>'
    numbers = " ".join(figure(float(c), 12) for c in part.put[:3].T.reshape(-1))
    return f'<item objectid="{number}" transform="{numbers}"/>'
