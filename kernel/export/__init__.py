"""Which files does a plan give, and what is in each?

A table of formats and one function that gives all asked-for files as bytes. Nothing here touches
the disk: `shelf.py` alone does.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..faults import InternalError

if TYPE_CHECKING:
    from ..plan import CutPlan

FORMATS = ("svg", "dxf", "stl", "glb", "3mf")
"""In the order the files are made in; each word is also the files' ending."""


def export_files(plan: CutPlan, formats: tuple[str, ...], chord: float) -> dict[str, bytes]:
    """The files of `formats` by plain file name, in a fixed order.

    `chord` is the greatest distance between an arc and its chord in meshes, mm; profiles keep
    their arcs. A format not in `FORMATS` is an InternalError: the caller checks what a user wrote.
    """
    unknown = [name for name in formats if name not in FORMATS]
    if unknown:
        raise InternalError(f"no export format is called {unknown[0]!r}")
    files: dict[str, bytes] = {}
    for name in FORMATS:
        if name in formats:
            files.update(_files_of(name, plan, chord))
    return files


def _files_of(name: str, plan: CutPlan, chord: float) -> dict[str, bytes]:
    """The files of one format; its module is imported only when it is asked for."""
    match name:
        case "svg":
            from .svg import svg_files

            return svg_files(plan)
        case "dxf":
            from .dxf import dxf_files

            return dxf_files(plan)
        case "stl":
            from .stl import stl_files

            return stl_files(plan, chord)
        case "glb":
            from .gltf import gltf_files

            return gltf_files(plan, chord)
        case "3mf":
            from .threemf import threemf_files

            return threemf_files(plan, chord)
    raise InternalError(f"no export format is called {name!r}")
