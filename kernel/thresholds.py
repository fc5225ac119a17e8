"""Which figures decide whether something is a finding? All of them, with their reasons.

Lengths in mm. Nothing else in the kernel holds a tolerance of its own.
"""

from __future__ import annotations

from fractions import Fraction

TWIN_INSET = 0.0025
"""How far each board's twin is eroded before two are intersected. Wood overlapping deeper than
twice this (0.005) is found, less is silent: a twentieth of the loosest glue line we ask of a
router, and fifty times what a double loses over a 10 m piece."""

LUMP_INSET = 1e-6
"""How far two overlapping bodies are eroded to tell their lumps apart: where a joint has no fit,
faces that lie in each other would tie the lumps together with sheets of no thickness. A thousand
times what the solid library loses over a 10 m piece."""

LEAST_LUMP = 1e-3
"""Lumps of overlap smaller than this, mm3, are dropped from the report (0.1 mm cubed)."""

CHECK_CHORD = 0.001
"""Greatest distance between an arc and its chord in the solids that checks read: less than half
the twin inset, so that chords alone never make or hide a finding."""

EXPORT_CHORD = 0.005
"""The same for exported meshes, unless asked otherwise."""

OVERSHOOT = 1.0
"""How far a cut goes on past the blank where it runs out into air, so that no skin is left."""

LEAST_TOUCH = 1e-6
"""How wide the overlap of two facets must be, looking along a move, to count as contact: a four-
hundredth of the twin inset, by which sliding faces stand apart, and a hundred times the rounding
of coordinates over a 10 m piece."""

FACES_NEAR = 1.0
"""Faces of two boards within this of the room both boxes share may guide one along the other."""

CORE_SKIN = 0.05
"""How much is taken off a box of a board that no cut reaches, and added to every cut, before the
box is said to be wood: twenty times the twin inset, so that the twin is solid there too."""

PRESSED = 0.1
"""How far wood of the thickest delivery may be in wood of its mate, such as a square edge in a
fillet, and still be pressed home by hand (common practice)."""

PASSING_NEAR = 50.0
"""Farther than this from what moves, nothing is said to be near its way."""

FACES_LIE_ALONG = 0.5
"""Two faces whose slant, degrees, is less lie along each other: ten times what turned boards may
be off, less than any taper a joint is cut with."""

FACES_FACE = 6.0
"""Normals that differ from opposite by less than this, degrees, face each other: the chords of two
arcs of 2 mm radius do, cut to `CHECK_CHORD`, and no two walls of a joint that lean on purpose."""

GLUE_GAP = 0.25
"""The widest gap that glue is counted to bridge: at 0.13 PVA is at full strength, at 0.25 it has
lost a fifth (Bollock, Fine Woodworking, Jan/Feb 2017, as quoted)."""

MEANT = 0.1
"""A direction written within this many degrees of an axis or a face's normal means that one."""

SAME = 1e-6
"""Lengths closer than this are the same length once floats are involved."""

SQUARE = 1e-9
"""Boards whose axes agree this closely (the sine of the angle between them) are square to each
other: over a 10 m board that is a hundred-thousandth of a millimetre, a thousand times less than a
shop can set, and far above the rounding of a chain of turns."""

SNAP_PER_MM = 10**9
"""Coordinates of a board that was turned by an odd angle are rounded to this many parts of a
millimetre, so that faces meant to be one plane are one number again."""

OPENING_HAIR = 1e-5
"""How much less than the cutter's radius a region is eroded to find which corners stay: a slot
exactly as wide as its cutter stays, one wider than that by less counts as exactly as wide."""

LEAST_RUN = 2e-6
"""Edges of a flat region shorter than this are rounding of the clipping grid (7.5e-9) where two
curves run close together, not edges anybody drew."""

NAMING = 1e-7
"""How far off its source line an edge may lie after clipping: a dozen steps of the grid."""

TANGENT = 1e-9
"""Two curves whose gap or overlap is smaller than this touch in one point."""

TOPOLOGY_CHORD = 0.004
"""Greatest distance between an arc and its chord while clipping finds out which edges remain;
coordinates are then computed from the arcs themselves."""

LOOSE_FIT = 0.8
"""The most play a joint may have from side to side, socket less part, at any delivered thickness:
0.4 a side, the widest gap of premium work in ANSI/AWI 0620-2024, 3.4.1.1. A glued joint is weak
long before (PVA loses a fifth of its strength at a gap of 0.25: Bollock, Fine Woodworking, Jan/Feb
2017, as quoted), but plywood delivered 0.6 under its nominal thickness is ordinary."""

FACING_COSINE = 1.0 - 1e-9
"""A facet faces along an axis when its normal's share along it is at least this (within 0.003
degrees): far above rounding, far below the 0.6 degrees of the flattest chord of a fillet."""

GROOVE_FLOOR_SHARE = 0.5
"""The least share of the stock's thickness to leave under a groove or dado (common practice)."""

GROOVE_RUN_SHARE = 0.5
"""A pocket that runs along more than this share of a board, with wood on both sides, weakens it as
a groove does; a shorter one is a mortise."""

LEAST_WALL = 5.0
"""The least wall beside a cut, between it and an edge, an end or another cut, in the plane of a
board's face (common practice: about 5 in hardwood, 6 in softwood and plywood; the lower of the two,
so that what is told is thin in any wood). A wall shorter than twice this along the cut is held at
both ends, and one lower than it is wide cannot snap off: those may be thinner."""

EDGE_WALL_SHARE = 0.25
"""The least wall beside a groove or mortise in a board's edge or end, as a share of the stock's
thickness (common practice: 0.25 to 0.33)."""

LEAST_TONGUE = 2.0
"""The least thickness of what a joint leaves standing: a pin, a tenon, a tongue, the skin under a
stopped mortise or a rabbet (common practice: a third of 6 mm stock). Thinner wood chips off under
the bit."""

JOINT_SHARE = 0.05
"""How much of the wood that a joint leaves to a board a cut of that board may take: a screw's or a
peg's hole takes less, a hand hole or a rabbet over a pin more (common practice)."""

SAFE_LIFT = 5.0
"""How far above a blank the machine must still be able to lift the bit (common practice)."""

SHORT_GRAIN_LIP_SHARE = Fraction(1, 3)
"""The least thickness of a lip of short grain beside a groove, as a share of the stock's thickness
(common practice: about a third): the grain runs across the lip, which splits off along it."""

SLIVER_SHARE = Fraction(1, 3)
"""A pin narrower than this share of its length is a sliver: it splits along its grain when the
joint is driven home (common practice: a third to a half)."""

LEAST_STEP = Fraction(1, 2)
"""The least rise of a step joint's steps: five times what a router holds (common practice: 0.1), so
that a step is there at all; finer ones only cost time."""

MITRE_SHORT = 0.01
"""How far short of a mitre's outside edge a turned board may end: lengths round a polygon are no
round figures, and a nick this small is sanded off."""

LEAN_AGREES = 0.01
"""Angles of a v bit and of a mitre that agree within this, degrees, are one: 0.002 mm over 18 mm of
thickness."""
