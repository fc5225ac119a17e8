"""Which figures decide whether something is a finding? All of them, with their reasons.

Lengths in mm. Nothing else in the kernel holds a tolerance of its own.
"""

from __future__ import annotations

TWIN_INSET = 0.0025
"""How far each board's twin is eroded before two are intersected. Wood overlapping deeper than
twice this (0.005) is found, less is silent: a twentieth of the loosest glue line we ask of a
router, and fifty times what a double loses over a 10 m piece."""

LEAST_LUMP = 1e-3
"""Lumps of overlap smaller than this, mm3, are dropped from the report (0.1 mm cubed)."""

CHECK_CHORD = 0.001
"""Greatest distance between an arc and its chord in the solids that checks read: less than half
the twin inset, so that chords alone never make or hide a finding."""

EXPORT_CHORD = 0.005
"""The same for exported meshes, unless asked otherwise."""

OVERSHOOT = 1.0
"""How far a cut goes on past the blank where it runs out into air, so that no skin is left."""

SAME = 1e-6
"""Lengths closer than this are the same length once floats are involved."""
