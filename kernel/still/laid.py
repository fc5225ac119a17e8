"""Where does a board's own figure lie on the faces of it that are seen?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..export.scene import Part
from ..tones import Colour, hex_of
from .flats import flat_both, flat_loops, flat_of
from .grain import Wood, face_lines, figure_of, inside, plies
from .hidden import Seen
from .paper import Sheet
from .pathdata import along, closed, signed_area

Floats = NDArray[np.float64]

FINE = 1.8
"""The least distance between two lines of a board's figure, px."""

GRAIN: Colour = (0.33, 0.20, 0.08)


def figure_paths(
    seen: tuple[Seen, ...], made: tuple[Part, ...], view: Floats, sheet: Sheet
) -> list[str]:
    """SVG: plies as one path of bands, grain and rings as one path of fine lines."""
    bands: list[str] = []
    lines: list[str] = []
    for s in seen:
        part = made[s.face.body]
        laid = laid_face(s, part, view)
        if laid is None:
            continue
        wood = _wood(part, s.face.body, FINE / sheet.scale)
        for line in face_lines(wood, laid.normal):
            lines += [along(sheet.put(piece)) for piece in inside(laid.put(line), s.loops)]
        if laid.normal != 2:
            bands.append(closed(tuple(map(sheet.put, _ply_bands(wood, laid, s)))))
    ink = hex_of(GRAIN)
    return [
        f'<path fill="{ink}" fill-opacity=".22" d="{"".join(bands)}"/>',
        f'<path fill="none" stroke="{ink}" stroke-opacity=".2" stroke-width=".6"'
        f' stroke-linecap="round" d="{"".join(lines)}"/>',
    ]


def _wood(part: Part, number: int, fine: float) -> Wood:
    length, width, thick = part.sizes
    return Wood(
        figure=figure_of(part.stock),
        number=number,
        length=length,
        width=width,
        thick=thick,
        fine=fine,
    )


@dataclass(frozen=True, slots=True)
class Laid:
    """The plane of a face square to axis `normal` of its board's flat frame."""

    normal: int
    origin: Floats
    first: Floats
    second: Floats

    def put(self, points: Floats) -> Floats:
        """Points (n, 2) in the other two flat axes, in view coordinates."""
        placed: Floats = self.origin + points[:, :1] * self.first + points[:, 1:] * self.second
        return placed


def laid_face(s: Seen, part: Part, view: Floats) -> Laid | None:
    """None for a face askew to its board."""
    turned = view @ part.put[:3, :3]
    origin = view @ part.put[:3, 3]
    normal = np.array(s.face.normal)
    towards = normal @ turned
    axis = int(np.argmax(np.abs(towards)))
    if abs(towards[axis]) < 1 - 1e-6:
        return None
    level = s.face.slope[2] * s.face.normal[2] - float(normal @ origin)
    first, second = (other for other in range(3) if other != axis)
    origin = origin + turned[:, axis] * level / towards[axis]
    return Laid(axis, origin[:2], turned[:2, first], turned[:2, second])


def _ply_bands(wood: Wood, laid: Laid, s: Seen) -> tuple[Floats, ...]:
    """What is seen of every second ply on an edge or an end."""
    far = wood.width if laid.normal == 0 else wood.length
    bands = []
    for low, high in plies(wood):
        band = laid.put(np.array([(0, low), (far, low), (far, high), (0, high)], dtype=float))
        bands.append(band if signed_area(band) > 0 else band[::-1])
    return flat_loops(flat_both(s.region, flat_of(tuple(bands)))) if bands else ()
