"""How are fits printed? As a table for people, as CSV and as JSON.

Lengths in mm, areas in cm2 in the table and in mm2 elsewhere, places in the finished piece.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Sequence
from math import isfinite

from .facing import Areas
from .figures import figure
from .fits import ROLES, AxisFit, Fits, Free, JointFit
from .shadows import Vector
from .stack import Piece, Stack
from .straying import Kind, Source

SCHEMA = "dryfit-fits-1"

HEAD = (
    "boards", "joint", *ROLES, "fit", "least", "most", "wanted", "within",
    "gap", "face", "edge", "end",
)  # fmt: skip

COLUMNS = (
    "joint", "family", "part", "mate",
    *(f"free_{role}{way}" for role in ROLES for way in ("_onward", "_back")),
    "axis", "fit", "least", "most", "wanted_least", "wanted_most", "share_within",
    "least_gap", "gap_x", "gap_y", "gap_z",
    *(f"{kind}_{grain}" for kind in ("touching", "glue", "glue_least")
      for grain in ("face", "edge", "end")),
)  # fmt: skip


# ---- for people ----------------------------------------------------------------------------------


def as_table(fits: Fits, stack: Stack | None = None) -> str:
    """A line for each axis that a joint fits its part on; joints without one get a single line."""
    rows = [row for joint in fits.joints for row in _rows(joint)]
    lines = _aligned((HEAD, *rows)) if rows else []
    lines += ["", *_legend(fits)]
    if stack is not None:
        lines += ["", *_stack_lines(stack)]
    return "\n".join(lines).lstrip("\n") + "\n"


def _rows(joint: JointFit) -> list[tuple[str, ...]]:
    boards, glue = f"{joint.part} + {joint.mate}", joint.glued
    free = ("overlap",) * 3 if joint.free is None else tuple(_free(one) for one in joint.free)
    gap = "" if joint.least_gap is None else _mm(joint.least_gap)
    areas = tuple(_cm2(area) for area in (glue.face, glue.edge, glue.end))
    if not joint.fits:
        return [(boards, joint.family, *free, "", "", "", "", "", gap, *areas)]
    first = True
    rows = []
    for axis in joint.fits:
        told = (boards, joint.family, *free) if first else ("",) * (2 + len(ROLES))
        rest = (gap, *areas) if first else ("",) * 4
        rows.append((*told, *_fit_cells(axis), *rest))
        first = False
    return rows


def _fit_cells(axis: AxisFit) -> tuple[str, ...]:
    least, most = axis.asked
    return (
        f"{axis.role} {_mm(axis.drawn)}",
        _mm(axis.worst.least),
        _mm(axis.worst.most),
        f"{_mm(least)}..{_mm(most)}",
        _percent(axis.share),
    )


def _free(free: Free) -> str:
    if isfinite(free.total):
        return _mm(free.total)
    if isfinite(free.onward) or isfinite(free.back):
        return "one way"
    return "open"


def _legend(fits: Fits) -> list[str]:
    """What the columns mean and what the figures were worked out for."""
    lines = [
        "length, width, thickness: how far the first board moves along its own axes, both ways, mm",
        "fit: play from wall to wall as drawn, mm",
        f"least, most: the same over the delivered thickness of the stocks, {_off(fits)}",
        "gap: the least between faces that look at each other, mm",
        "face, edge, end: where glue holds, by the worse grain of the two, cm2",
    ]
    if fits.joints_within is not None and fits.pieces_within is not None:
        lines.append(
            f"within what is wanted: {_percent(fits.joints_within)} of fits, every fit of "
            f"{_percent(fits.pieces_within)} of pieces ({fits.samples} drawn, seed {fits.seed})"
        )
    return lines


def _off(fits: Fits) -> str:
    bit, place = fits.tolerances.bit, fits.tolerances.placement
    if not (bit or place):
        return "bits and setups true"
    return f"bits {_mm(bit)} and blanks on the machine {_mm(place)} off either way"


def _stack_lines(stack: Stack) -> list[str]:
    worst = stack.worst
    rows = [
        ("along " + stack.axis.letter, "drawn", "least", "most"),
        (f"{stack.stops[0]} to {stack.stops[1]}", *_three(stack.room)),
        *((f"less {piece.name}", *_three(piece)) for piece in stack.pieces),
        ("left over", _mm(stack.left), _mm(worst.least), _mm(worst.most)),
    ]
    gaps = ", ".join(_mm(gap) for gap in stack.gaps)
    lines = [*_aligned(rows), f"gaps as drawn: {gaps}"]
    if worst.corner:
        lines.append(f"least where {', '.join(source_words(*each) for each in worst.corner)}")
    return lines


def _three(piece: Piece) -> tuple[str, str, str]:
    return _mm(piece.size), _mm(piece.least), _mm(piece.most)


def source_words(source: Source, stray: float) -> str:
    """What strays, and how far: `ply12 comes 0.2 thicker`."""
    off = _mm(abs(stray))
    match source.kind:
        case Kind.THICKNESS:
            return f"{source.name} comes {off} {'thicker' if stray > 0 else 'thinner'}"
        case Kind.BIT:
            return f"{source.name} is {off} {'over' if stray > 0 else 'under'} size"
        case Kind.PLACE:
            axis = "" if source.axis is None else source.axis.letter
            sign = "+" if stray > 0 else "-"
            return f"{source.name} lies {off} off along {sign}{axis}, cut from {source.side}"


def _aligned(rows: Iterable[Sequence[str]]) -> list[str]:
    """Columns two apart; words to the left, figures to the right."""
    table = [tuple(row) for row in rows]
    widths = [max(len(cell) for cell in column) for column in zip(*table, strict=True)]
    words = [any(cell[:1].isalpha() for cell in column[1:]) for column in zip(*table, strict=True)]
    lines = []
    for row in table:
        cells = (
            f"{cell:<{wide}}" if is_word else f"{cell:>{wide}}"
            for cell, wide, is_word in zip(row, widths, words, strict=True)
        )
        lines.append("  ".join(cells).rstrip())
    return lines


def _mm(value: float) -> str:
    return figure(value, 2)


def _cm2(area: float) -> str:
    return figure(area / 100, 1)


def _percent(share: float) -> str:
    return f"{figure(100 * share, 1)}%"


# ---- for programs --------------------------------------------------------------------------------


def as_csv(fits: Fits) -> str:
    """A row for each axis that a joint fits, or one for a joint that fits none; `COLUMNS`."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for joint in fits.joints:
        for axis in joint.fits or (None,):
            writer.writerow(_csv_cells(joint, axis))
    return out.getvalue()


def _csv_cells(joint: JointFit, axis: AxisFit | None) -> list[str]:
    ways: list[float | None] = [w for f in joint.free or () for w in (f.onward, f.back)]
    fit: list[float | None] = [None] * 6
    if axis is not None:
        fit = [axis.drawn, axis.worst.least, axis.worst.most, *axis.asked, axis.share]
    areas = [
        area
        for one in (joint.touching, joint.glued, joint.glued_least)
        for area in (one.face, one.edge, one.end)
    ]
    names = (joint.joint, joint.family, joint.part, joint.mate)
    return [
        *(_no_formula(name) for name in names),
        *(_cell(way) for way in ways or [None] * 6),
        "" if axis is None else axis.role,
        *(_cell(value) for value in fit),
        *(_cell(value) for value in (joint.least_gap, *(joint.at or (None,) * 3))),
        *(_cell(area) for area in areas),
    ]


def _cell(value: float | None) -> str:
    if value is None:
        return ""
    return figure(value) if isfinite(value) else "open"


def _no_formula(cell: str) -> str:
    return f"'{cell}" if cell[:1] in ("=", "+", "-", "@", "\t", "\r") else cell


def as_json(fits: Fits, stack: Stack | None = None) -> str:
    """An object of `schema` ("dryfit-fits-1"), `units` ("mm", "mm2"), `tolerances` (`bit`,
    `placement`), `samples`, `seed`, `fits_within` and `pieces_within` (shares, or null), `joints`
    and `stack` (or null).

    A joint has `joint`, `family`, `part`, `mate`, `free` (null where the boards overlap, else for
    `length`, `width` and `thickness` of the part how far it goes [onward, back], null where nothing
    stops it), `least_gap` and `at` (or null), `touching`, `glue` and `glue_least` (areas of `face`,
    `edge`, `end`) and `fits`: each with `axis`, `fit`, `least`, `most`, `least_where` (what strays:
    `kind`, `name`, `side`, `along`, `by`), `wanted` and `share_within`.
    """
    value = {
        "schema": SCHEMA,
        "units": {"length": "mm", "area": "mm2"},
        "tolerances": {"bit": fits.tolerances.bit, "placement": fits.tolerances.placement},
        "samples": fits.samples,
        "seed": fits.seed,
        "fits_within": _or_none(fits.joints_within),
        "pieces_within": _or_none(fits.pieces_within),
        "joints": [_joint_object(joint) for joint in fits.joints],
        "stack": None if stack is None else _stack_object(stack),
    }
    return json.dumps(value, indent=2, ensure_ascii=False) + "\n"


def _joint_object(joint: JointFit) -> dict[str, object]:
    free = None
    if joint.free is not None:
        free = {
            role: [_or_none(one.onward), _or_none(one.back)]
            for role, one in zip(ROLES, joint.free, strict=True)
        }
    return {
        "joint": joint.joint,
        "family": joint.family,
        "part": joint.part,
        "mate": joint.mate,
        "free": free,
        "least_gap": _or_none(joint.least_gap),
        "at": _place(joint.at),
        "touching": _areas(joint.touching),
        "glue": _areas(joint.glued),
        "glue_least": _areas(joint.glued_least),
        "fits": [_axis_object(axis) for axis in joint.fits],
    }


def _axis_object(axis: AxisFit) -> dict[str, object]:
    return {
        "axis": axis.role,
        "fit": _number(axis.drawn),
        "least": _number(axis.worst.least),
        "most": _number(axis.worst.most),
        "least_where": [_source_object(*each) for each in axis.worst.corner],
        "wanted": [_number(bound) for bound in axis.asked],
        "share_within": _number(axis.share),
    }


def _source_object(source: Source, stray: float) -> dict[str, object]:
    return {
        "kind": source.kind.value,
        "name": source.name,
        "side": None if source.side is None else str(source.side),
        "along": None if source.axis is None else source.axis.letter,
        "by": _number(stray),
    }


def _stack_object(stack: Stack) -> dict[str, object]:
    return {
        "along": stack.axis.letter,
        "stops": list(stack.stops),
        "room": _range(stack.room.size, stack.room.least, stack.room.most),
        "pieces": [
            {"name": piece.name, **_range(piece.size, piece.least, piece.most)}
            for piece in stack.pieces
        ],
        "left": _range(stack.left, stack.worst.least, stack.worst.most),
        "least_where": [_source_object(*each) for each in stack.worst.corner],
        "gaps": [_number(gap) for gap in stack.gaps],
    }


def _range(drawn: float, least: float, most: float) -> dict[str, object]:
    return {"drawn": _number(drawn), "least": _number(least), "most": _number(most)}


def _areas(areas: Areas) -> dict[str, object]:
    named = (("face", areas.face), ("edge", areas.edge), ("end", areas.end))
    return {grain: _number(area) for grain, area in named}


def _place(at: Vector | None) -> list[float] | None:
    return None if at is None else [_number(c) for c in at]


def _or_none(value: float | None) -> float | None:
    return None if value is None or not isfinite(value) else _number(value)


def _number(value: float) -> float:
    """The number as `figure` prints it."""
    return float(figure(value))
