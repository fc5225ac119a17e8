"""From the design's own cuts on boards to their records: what does each shaping take off?

Each shaping is made on each of its boards that is sound. A shaping whose words are wrong makes no
cut anywhere; one that does not go on a board leaves that board without it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from .blanks import Blank
from .cuts import Cut
from .cutter import Bit
from .design import BoardRef, Design, Shaping
from .finding import Finding, Outcome
from .joint_findings import UnknownBoard
from .joints import family_named
from .joints.options import Reading
from .near import nearest
from .shaping import WHERE, shaping_named, shapings_with
from .shaping.family import ShapingCuts, ShapingFamily
from .shaping.workpiece import Workpiece
from .shaping_findings import UnknownCut


@dataclass(frozen=True, slots=True, kw_only=True)
class Shaped:
    """One shaping made on one board. `name` is unique in the design; bits are told as for joints.

    `failed` is set when a finding stopped it.
    """

    name: str
    shaping: Shaping
    board: BoardRef
    bit: str | None = None
    bit_chosen: bool = False
    cuts: tuple[Cut, ...] = ()
    failed: bool = False


def shaped_boards(
    design: Design, blanks: Mapping[str, Blank]
) -> tuple[tuple[Shaped, ...], tuple[Finding, ...]]:
    """Every shaping on every sound board of its own, in the order written, and what is wrong.

    Of shapings with one name the first is made.
    """
    made: list[Shaped] = []
    findings: list[Finding] = []
    first: dict[str, Shaping] = {}
    for shaping in design.shapings:
        if first.setdefault(shaping.name, shaping) is shaping:
            done, told = _shaped(shaping, design, blanks)
            made += done
            findings += told
    return tuple(made), tuple(findings)


def _shaped(
    shaping: Shaping, design: Design, blanks: Mapping[str, Blank]
) -> tuple[list[Shaped], list[Finding]]:
    known = tuple(board.name for board in design.boards)
    findings: list[Finding] = [
        UnknownBoard(place=ref.place, board=ref.name, nearest=nearest(ref.name, known))
        for ref in shaping.boards
        if ref.name not in known
    ]
    family = shaping_named(shaping.family)
    if family is None:
        return [_failed(shaping, ref) for ref in shaping.boards], [*findings, _unknown(shaping)]
    reading = Reading(shaping, family.options, shapings_with)
    cut = partial(_cut, family, family.read(reading))
    findings += reading.findings
    sound = not findings
    made: list[Shaped] = []
    for ref in shaping.boards:
        if ref.name in blanks and sound:
            done, told = _on_board(shaping, ref, blanks, design.bits, cut)
            made.append(done)
            findings += told
        else:
            made.append(_failed(shaping, ref))
    return made, findings


def _cut(family: ShapingFamily[Any], options: object, piece: Workpiece) -> Outcome[ShapingCuts]:
    return family.cut(piece, options)


def _on_board(
    shaping: Shaping,
    ref: BoardRef,
    blanks: Mapping[str, Blank],
    bits: tuple[Bit, ...],
    cut: Callable[[Workpiece], Outcome[ShapingCuts]],
) -> tuple[Shaped, tuple[Finding, ...]]:
    blank = blanks[ref.name]
    name = shaping_name(shaping, ref)
    piece = Workpiece(
        name=name,
        shaping=shaping,
        board=blank.board,
        run=blank.run,
        bits=bits,
        others={other: b for other, b in blanks.items() if other != ref.name},
    )
    outcome = cut(piece)
    if outcome.value is None:
        return _failed(shaping, ref), outcome.findings
    work = outcome.value
    done = Shaped(
        name=name,
        shaping=shaping,
        board=ref,
        bit=work.bit,
        bit_chosen=work.bit_chosen,
        cuts=work.cuts,
    )
    return done, outcome.findings


def shaping_name(shaping: Shaping, ref: BoardRef) -> str:
    """The shaping's own name where it shapes one board, else with the board's name after it."""
    return shaping.name if len(shaping.boards) == 1 else f"{shaping.name} [{ref.name}]"


def _failed(shaping: Shaping, ref: BoardRef) -> Shaped:
    return Shaped(name=shaping_name(shaping, ref), shaping=shaping, board=ref, failed=True)


def _unknown(shaping: Shaping) -> Finding:
    known = tuple(WHERE)
    return UnknownCut(
        place=shaping.family_place or shaping.place,
        cut=shaping.family,
        nearest=nearest(shaping.family, known),
        known=known,
        is_joint=family_named(shaping.family) is not None,
    )
