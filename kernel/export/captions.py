"""Which words stand on a drawing of a part?

Short captions in the trade's words, made from the facts of a `Profile`. They are part of the file,
not messages about the design.
"""

from __future__ import annotations

from ..cuts import Work
from ..figures import figure
from ..profile import Note, Operation, OperationKind, Profile
from ..views import Extent


def size_caption(profile: Profile) -> str:
    """`left: 520 x 240 x 12 mm of ply12, grain along the length`."""
    sizes = " x ".join(figure(s) for s in (profile.length, profile.width, profile.thick))
    return f"{profile.board}: {sizes} mm of {profile.stock}, grain along the length"


def face_caption(profile: Profile) -> str:
    """Which way the part lies, and what the lines mean."""
    turned = "; face B is shown turned over about the length" if profile.work_on_b else ""
    return (
        f"Face A lies up, the board's {profile.side_a} side{turned}. "
        "Lines are the finished edge, not the tool's path."
    )


def operation_caption(operation: Operation) -> str:
    """`POCKET_Z6.0: 6 mm deep from face A, bit b6, for backs [back, left]`."""
    words = [_kind(operation)]
    if operation.bits:
        words.append(f"{'bit' if len(operation.bits) == 1 else 'bits'} {', '.join(operation.bits)}")
    if operation.joints:
        words.append(f"for {'; '.join(operation.joints)}")
    return f"{operation.name}: {', '.join(words)}"


def note_caption(note: Note) -> str:
    """`By hand: 8 roundovers with r3 from the left end, for corner [left, top]`."""
    lead = "By hand: " if note.by_hand else "Not drawn: "
    words = [f"{_counted(note)} with {note.bit} from {note.where.value}"]
    if note.depth is not None:
        words.append(f"{figure(note.depth)} mm deep")
    if note.slant:
        words.append(f"walls {figure(note.slant, 2)} degrees off square")
    words.append(f"x {_span(note.x)}, y {_span(note.y)}, {_span(note.below)} below face A")
    words.append(f"for {note.joint}")
    return lead + ", ".join(words)


def _kind(operation: Operation) -> str:
    match operation.kind:
        case OperationKind.CUT_OUTER:
            return "the outline, right through"
        case OperationKind.CUT_INNER:
            return "openings, right through"
        case OperationKind.POCKET:
            depth = figure(operation.depth or 0.0)
            return f"{depth} mm deep from face {operation.face.value}"
        case OperationKind.ANGLED:
            depth = figure(operation.depth or 0.0)
            lean = figure(operation.slant, 2)
            return (
                f"{depth} mm deep from face {operation.face.value}, walls {lean} degrees off square"
            )


def _counted(note: Note) -> str:
    names = {
        Work.POCKET: "pocket",
        Work.THROUGH: "through cut",
        Work.BORE: "bore",
        Work.ROUND: "roundover",
        Work.BEVEL: "bevel",
        Work.SLOT: "slot",
    }
    return f"{note.count} {names[note.work]}{'' if note.count == 1 else 's'}"


def _span(extent: Extent) -> str:
    return f"{figure(extent[0])}..{figure(extent[1])}"
