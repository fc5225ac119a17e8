"""From a design to the cuts of every board.

`cut_plan` turns each join into joints (one for each pair of boards that meets), asks the joint's
family for its cuts, and gathers them by board in a fixed order. Everything after it reads the
`CutPlan` and never goes back to the joins.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from .bare import bare
from .blanks import Blank, cuts_taken_twice, joins_taken_twice, sound_blanks
from .board import Board, Run
from .cuts import Cut, Hardware, Mating
from .cutter import Bit
from .design import BoardRef, Design, Join
from .finding import Finding, Outcome
from .frames import Bridge
from .joint_findings import JoinedToItself, NotSquare, UnknownBoard, UnknownFamily, WrongVerb
from .joints import WHERE, families_with, family_named
from .joints.family import Contact, Family
from .joints.meeting import Meeting, Part
from .joints.options import Reading
from .joints.tilted import TiltedMeeting, leaves
from .kept import Kept, Table
from .near import nearest
from .pairing import Pair, boards_that_reach_nothing, butt_overlap, pairs_of
from .shaped import Shaped, shaped_boards
from .stock import Stock

MOST_JOINTS = 5_000
"""How many joints are kept from plan to plan."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """One pair of boards under one join, cut.

    `first` and `second` are as written; `name` is unique in the design. `bit` is the bit the joint
    is cut with and `bit_chosen` says that it was picked because none was named. `failed` is set
    when a finding stopped the joint: checks of the pair stay silent then.
    """

    name: str
    join: Join
    first: BoardRef
    second: BoardRef
    bit: str | None = None
    bit_chosen: bool = False
    cuts: tuple[Cut, ...] = ()
    matings: tuple[Mating, ...] = ()
    hardware: tuple[Hardware, ...] = ()
    failed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPlan:
    """A board with all its cuts, in the order of the design's joins, then of its shapings."""

    board: Board
    run: Run
    cuts: tuple[Cut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """A design with its joints and shapings and the cuts of each board, in the order written.

    Boards whose blank is not sound (a finding told why) are left out.
    """

    design: Design
    boards: tuple[BoardPlan, ...]
    joints: tuple[Joint, ...]
    shaped: tuple[Shaped, ...] = ()


def cut_plan(design: Design, kept: Kept | None = None) -> Outcome[CutPlan]:
    """The cuts of every board, and findings on blanks, options, bits and pairs that do not meet.

    `kept`, turned by the caller, holds the joints of the plan before: those with the same words and
    boards, wherever they stand and whatever their names, are not cut again.
    """
    sound, wrong = sound_blanks(design)
    blanks = {blank.board.name: blank for blank in sound}
    names = dict.fromkeys(board.name for board in design.boards)
    table = (kept or Kept()).table("joints", 0, MOST_JOINTS)
    shop = _Shop(blanks, names, design.bits, _Known(table, design.bits))
    findings = [*wrong, *joins_taken_twice(design), *cuts_taken_twice(design)]
    joints: list[Joint] = []
    for join in _each_name_once(design.joins):
        made, told = _joints(join, shop)
        joints += made
        findings += told
    shaped, amiss = shaped_boards(design, blanks)
    findings += amiss
    cuts: dict[str, list[Cut]] = {name: [] for name in blanks}
    for of_one in (*(joint.cuts for joint in joints), *(each.cuts for each in shaped)):
        for cut in of_one:
            cuts[cut.board].append(cut)
    boards = tuple(
        BoardPlan(board=blank.board, run=blank.run, cuts=tuple(cuts[blank.board.name]))
        for blank in sound
    )
    plan = CutPlan(design=design, boards=boards, joints=tuple(joints), shaped=shaped)
    return Outcome(plan, tuple(findings))


@dataclass(frozen=True, slots=True)
class _Shop:
    """What every join is worked out from: the sound blanks, the names of all boards, the bits; and
    the joints cut so far."""

    blanks: Mapping[str, Blank]
    names: Mapping[str, None]
    bits: tuple[Bit, ...]
    known: _Known


class _Known:
    """The joints cut so far, in this plan and those before, by what decides them.

    Where nothing was wrong with a joint its cuts and matings stand at its line and tell of its
    boards by name, and only how these lie to each other counts: the joints of a row of equal
    drawers are one, and it is known again when its line has moved, or both boards have. Findings
    tell of other places and names too.
    """

    def __init__(
        self, table: Table[tuple[Any, ...], Outcome[Joint]], bits: tuple[Bit, ...]
    ) -> None:
        self._table = table
        self._bits = bits
        self._bare_bits = tuple(replace(bit, place=None) for bit in bits)
        self._bare: dict[str, tuple[Board, Stock]] = {}

    def of(self, join: Join) -> Callable[[Pair, Callable[[], Outcome[Joint]]], Outcome[Joint]]:
        """Gives the joint of a pair under the join, known or cut."""
        nameless = replace(bare(join), name="", first=(), second=())
        return partial(self._joint, join, nameless)

    def _joint(
        self, join: Join, nameless: Join, pair: Pair, cut: Callable[[], Outcome[Joint]]
    ) -> Outcome[Joint]:
        lying = pair.between, pair.turned
        key = (nameless, *map(self._blank, (pair.a, pair.b)), *lying, self._bare_bits)
        known = self._table.get(key) or self._table.get((join, pair, self._bits))
        if known is None:
            known = cut()
            self._table[(join, pair, self._bits) if known.findings else key] = known
        if known.findings or known.value is None:
            return known
        return Outcome(_under(join, pair, known.value))

    def _blank(self, blank: Blank) -> tuple[Board, Stock]:
        name = blank.board.name
        if name not in self._bare:
            board = replace(blank.board, name="", pose=(), place=None)
            self._bare[name] = board, replace(blank.stock, place=None)
        return self._bare[name]


def _under(join: Join, pair: Pair, joint: Joint) -> Joint:
    """A joint known from a like pair, as that of this pair."""
    name = joint_name(join, pair.first, pair.second)
    here = name, pair.first.name, pair.second.name, join.place
    if here == (joint.name, joint.first.name, joint.second.name, joint.join.place):
        return replace(joint, join=join, first=pair.first, second=pair.second)
    names = {joint.first.name: pair.first.name, joint.second.name: pair.second.name}
    return replace(
        joint,
        name=name,
        join=join,
        first=pair.first,
        second=pair.second,
        cuts=tuple(
            replace(
                cut,
                board=names[cut.board],
                mate=None if cut.mate is None else names[cut.mate],
                joint=name,
                place=join.place,
            )
            for cut in joint.cuts
        ),
        matings=tuple(
            replace(
                mating,
                part=names[mating.part],
                socket=names[mating.socket],
                joint=name,
                place=join.place,
            )
            for mating in joint.matings
        ),
        hardware=tuple(replace(ware, joint=name) for ware in joint.hardware),
    )


def _each_name_once(joins: tuple[Join, ...]) -> tuple[Join, ...]:
    first: dict[str, Join] = {}
    for join in joins:
        first.setdefault(join.name, join)
    return tuple(first.values())


def _joints(join: Join, shop: _Shop) -> tuple[list[Joint], list[Finding]]:
    """The joints of one join, pairs in the order written, and what is wrong with it.

    A join whose own words are wrong still gives its joints, failed, so that nothing further is said
    of boards that it would have resolved.
    """
    findings = _wrong_boards(join, shop.names)
    pairs = pairs_of(join, shop.blanks)
    family = family_named(join.family)
    if family is None:
        findings.append(_unknown_family(join))
        return [_failed(join, p) for p in pairs if p.meets(Contact.SHARING)], findings
    reading = Reading(join, family.options, families_with)
    options = family.read(reading)
    findings += [*_wrong_verb(join, family), *reading.findings]
    sound = not findings
    findings += boards_that_reach_nothing(join, pairs, shop.blanks, family.contact)
    joints = []
    known = shop.known.of(join)
    for pair in pairs:
        if not pair.meets(family.contact):
            continue
        made: Outcome[Joint] = Outcome(None)
        if sound:
            cut = partial(_cut_pair, join, pair, shop.bits, family, options)
            made = known(pair, cut)
        findings += made.findings
        joints.append(_failed(join, pair) if made.value is None else made.value)
    return joints, findings


def _cut_pair(
    join: Join, pair: Pair, bits: tuple[Bit, ...], family: Family[Any], options: object
) -> Outcome[Joint]:
    meeting = _meeting(join, pair, bits, family)
    if isinstance(meeting, Meeting):
        made = family.cut(meeting, options)
    elif isinstance(meeting, TiltedMeeting) and family.cut_tilted is not None:
        made = family.cut_tilted(meeting, options)
    elif isinstance(meeting, Finding):
        return Outcome(None, (meeting,))
    else:
        return Outcome(None, (_not_square(join, pair, family),))
    if made.value is None:
        return Outcome(None, made.findings)
    joint = Joint(
        name=joint_name(join, pair.first, pair.second),
        join=join,
        first=pair.first,
        second=pair.second,
        bit=made.value.bit,
        bit_chosen=made.value.bit_chosen,
        cuts=made.value.cuts,
        matings=made.value.matings,
        hardware=made.value.hardware,
    )
    return Outcome(joint, made.findings)


def _meeting(
    join: Join, pair: Pair, bits: tuple[Bit, ...], family: Family[Any]
) -> Meeting | TiltedMeeting | Finding:
    """How the two boards of a pair meet, in the coordinates of the first."""
    name = joint_name(join, pair.first, pair.second)
    a, b = _part(pair.first, pair.a, Bridge()), _part(pair.second, pair.b, Bridge())
    if pair.between is None or pair.shared is None:
        if pair.turned is None:
            return _not_square(join, pair, family)
        first, second = leaves(a, b, pair.turned)
        return TiltedMeeting(
            name=name, join=join, a=first, b=second, degrees=pair.turned.degrees, bits=bits
        )
    if family.contact is Contact.TOUCHING:
        overlap = butt_overlap(pair, join.place)
        if overlap is not None:
            return overlap
    b = _part(pair.second, pair.b, pair.between)
    return Meeting(name=name, join=join, a=a, b=b, overlap=pair.shared, bits=bits)


def _not_square(join: Join, pair: Pair, family: Family[Any]) -> Finding:
    return NotSquare(
        place=pair.first.place or join.place,
        board=pair.a.board.name,
        mate=pair.b.board.name,
        family=family.name,
    )


def _part(ref: BoardRef, blank: Blank, to_meeting: Bridge) -> Part:
    board = blank.board
    return Part(
        ref=ref,
        board=board,
        stock=blank.stock,
        run=blank.run,
        box=to_meeting.box(board.box),
        own=to_meeting.back,
    )


def _failed(join: Join, pair: Pair) -> Joint:
    name = joint_name(join, pair.first, pair.second)
    return Joint(name=name, join=join, first=pair.first, second=pair.second, failed=True)


def joint_name(join: Join, first: BoardRef, second: BoardRef) -> str:
    """The join's own name where it joins one pair, else with the pair's names after it."""
    if len(join.first) == len(join.second) == 1:
        return join.name
    return f"{join.name} [{first.name}, {second.name}]"


def _unknown_family(join: Join) -> Finding:
    known = tuple(WHERE)
    return UnknownFamily(
        place=join.family_place or join.place,
        family=join.family,
        nearest=nearest(join.family, known),
        known=known,
    )


def _wrong_verb(join: Join, family: Family[Any]) -> list[Finding]:
    if join.verb in family.verbs:
        return []
    return [
        WrongVerb(
            place=join.family_place or join.place,
            family=family.name,
            written=join.verb.value,
            allowed=tuple(verb.value for verb in family.verbs),
        )
    ]


def _wrong_boards(join: Join, names: Mapping[str, None]) -> list[Finding]:
    """Boards that the join names and nobody declared, and boards joined to themselves."""
    findings: list[Finding] = [
        UnknownBoard(
            place=ref.place or join.place, board=ref.name, nearest=nearest(ref.name, names)
        )
        for ref in (*join.first, *join.second)
        if ref.name not in names
    ]
    others = {ref.name for ref in join.second}
    findings += [
        JoinedToItself(place=ref.place or join.place, board=ref.name)
        for ref in join.first
        if ref.name in others
    ]
    return findings
