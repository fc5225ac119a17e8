"""How is a joint or a cut told on its page? The words between what the kernel works out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ...kernel.cuts import Work
from ...kernel.figures import figure
from ...kernel.joint_findings import Form
from ..pages import Bullets, Page, Paragraph, Part, Pictures, Program, Section, Table
from .byhand import hand_step_words
from .listing import listed

if TYPE_CHECKING:
    from ...kernel.compared import Compared
    from ...kernel.reference import CutLine, Facts
    from ..prose import Prose

TAKES: Mapping[Form, str] = {
    Form.LENGTH: "a length",
    Form.COUNT: "a count",
    Form.LENGTHS: "a length, or two",
    Form.PINS: "a count, or lengths",
    Form.WORD: "a word",
    Form.BIT: "a bit",
    Form.RELIEF: "a word",
    Form.STOP: "a length",
    Form.SIDE: "a side",
    Form.SIDES: "sides",
    Form.HAND: "`hand`",
    Form.BOARD: "a board",
}
"""What an option takes, in a word or two."""

DONE: Mapping[Work, str] = {
    Work.POCKET: "pocket",
    Work.THROUGH: "cut through",
    Work.BORE: "hole",
    Work.ROUND: "roundover",
    Work.BEVEL: "bevel",
    Work.SLOT: "slanting slot",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionLine:
    """One option: its name, what it takes, its default as it would be written, what it does."""

    name: str
    form: Form
    default: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Compares:
    """The reliefs side by side, on the design named `on`, cut with bits of `bits` mm; `codes` are
    what checking it finds under each. `is_smallest` when that is the smallest program."""

    on: str
    is_smallest: bool
    bits: tuple[float, ...]
    rows: tuple[Compared, ...]
    codes: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """All that a page tells of a joint or a cut.

    `written` are lines as one might write them, `checks` and `as_cut` codes with their lines of
    words. `kinds` are other programs of the joint, each with its title. `pictures` names the
    drawings that go with the smallest program.
    """

    title: str
    words: str
    written: tuple[str, ...]
    options: tuple[OptionLine, ...]
    prose: Prose
    facts: Facts
    compares: Compares | None
    checks: tuple[tuple[str, str], ...]
    as_cut: tuple[tuple[str, str], ...]
    program: str
    kinds: tuple[tuple[str, str], ...]
    pictures: tuple[tuple[str, str], ...]


DRAWN = "`dryfit joints --to DIR` draws it, closed and apart."


def reference_page(subject: Subject) -> Page:
    """The page, sections that have nothing to say left out."""
    prose = subject.prose
    lead = Paragraph(f"{subject.words[:1].upper()}{subject.words[1:]}.")
    sections = (
        Section("", (lead, *map(Paragraph, prose.purpose), *_pictures(subject))),
        Section("Strengths", _items(prose.strengths)),
        Section("Limits", _items(prose.limits)),
        Section("Not for", _items(prose.not_for)),
        Section("How it is written", (_written(subject), *_options(subject.options))),
        Section("Smallest program", (Program(subject.program),)),
        Section("How it is cut there", tuple(_cut(subject.facts))),
        Section("Work by hand", tuple(_by_hand(subject.facts))),
        Section("Besides boards", tuple(_besides(subject.facts))),
        Section("How it fits", tuple(_fit(subject.facts))),
        Section("Reliefs compared", tuple(_compared(subject.compares))),
        Section("What is checked", tuple(_checks(subject))),
        Section("More kinds", tuple(_kinds(subject))),
    )
    title = f"{subject.title[:1].upper()}{subject.title[1:]}"
    return Page(title, tuple(section for section in sections if section.parts))


def _pictures(subject: Subject) -> tuple[Part, ...]:
    return (Pictures(subject.pictures, DRAWN),) if subject.pictures else ()


def _items(items: tuple[str, ...]) -> tuple[Part, ...]:
    return (Bullets(items),) if items else ()


def _written(subject: Subject) -> Part:
    return Program("\n".join(subject.written))


def _options(options: tuple[OptionLine, ...]) -> tuple[Part, ...]:
    rows = tuple((o.name, TAKES[o.form], o.default, o.words) for o in options)
    return (Table(("option", "takes", "default", ""), rows),) if rows else ()


# -- how it is cut -------------------------------------------------------------------------------


def _cut(facts: Facts) -> Iterator[Part]:
    if not facts.cuts:
        yield Paragraph("Nothing is cut.")
        return
    rows = tuple((line.board, _from(line), *_work(line), line.bit) for line in facts.cuts)
    yield Table(("board", "from", "cuts", "deep", "bit"), rows)
    yield Paragraph(_setups(facts.setups))


def _runs_in(line: CutLine) -> bool:
    """Whether the work runs along inside the board, and its depth is how far."""
    return line.work.runs_along or line.work is Work.SLOT


def _from(line: CutLine) -> str:
    side = f"{line.surface.value} {line.side}"
    return f"in at {side}" if _runs_in(line) else side


def _work(line: CutLine) -> tuple[str, str]:
    what = DONE[line.work] if line.count == 1 else f"{DONE[line.work]}s"
    if line.work is Work.THROUGH and line.count != 1:
        what = "cuts through"
    slant = f", {figure(line.slant, 1)} degrees off the square" if line.slant else ""
    along = _runs_in(line)
    whole = "all along" if along else "through"
    deep = whole if line.depth is None else f"{figure(line.depth)}mm{' along' if along else ''}"
    return f"{line.count} {what}{slant}{', by hand' if line.by_hand else ''}", deep


TIMES = ("not at all", "once", "twice")


def _setups(setups: tuple[tuple[str, int], ...]) -> str:
    """How often each board is put down."""
    told = [f"`{board}` {TIMES[n] if n < len(TIMES) else f'{n} times'}" for board, n in setups]
    return f"Put down on the machine: {', '.join(told)}."


def _by_hand(facts: Facts) -> Iterator[Part]:
    if facts.by_hand:
        yield Bullets(
            tuple(
                f"`{board}`: {hand_step_words(step.work, step.bit, step.count)}"
                for board, step in facts.by_hand
            )
        )
    elif facts.cuts:
        yield Paragraph("None: the machine leaves it ready.")


def _besides(facts: Facts) -> Iterator[Part]:
    if facts.besides:
        yield Bullets(
            tuple(
                f"{piece.words}: {piece.count}, {'bought' if piece.is_bought else 'made'}"
                for piece in facts.besides
            )
        )


# -- how it fits ---------------------------------------------------------------------------------


def _fit(facts: Facts) -> Iterator[Part]:
    if facts.fits:
        rows = tuple(
            (
                f"{line.part} in {line.socket}",
                line.axis.letter,
                f"{figure(line.asked)}mm",
                "open" if line.measured is None else f"{figure(line.measured)}mm",
            )
            for line in facts.fits
        )
        yield Table(("play of", "along", "asked", "as cut"), rows)
    if facts.glue is not None:
        long, end = facts.glue.long_grain, facts.glue.end
        crossed = facts.crossed and long > 0
        yield Paragraph(
            f"Faces near enough for glue: {_mm2(long)} of side grain on side grain, {_mm2(end)} "
            f"that meet an end of a board, which hold little.{CROSSED if crossed else ''} Area is "
            "not strength."
        )
        if facts.mitre is not None:
            yield Paragraph(
                f"A plain mitre of the same boards meets on {_mm2(facts.mitre)}: here it is "
                f"{figure(facts.glue.whole / facts.mitre, 2)} times as much, √2 at the most."
            )


CROSSED = (
    " The grains cross: in solid wood such a bond counts for a third of one along the grain (US "
    "Forest Products Laboratory report 1522)."
)


def _mm2(area: float) -> str:
    return f"{figure(area, 0)} mm2"


# -- reliefs -------------------------------------------------------------------------------------


def _compared(compares: Compares | None) -> Iterator[Part]:
    if compares is None:
        return
    corners = max(row.corners for row in compares.rows)
    on = compares.on[:1].lower() + compares.on[1:]
    if not corners:
        yield Paragraph("No cut of it ends in an inside corner, so every relief comes to the same.")
        return
    bits = listed(tuple(f"{figure(bit)}mm" for bit in compares.bits), "and")
    where = "the smallest program" if compares.is_smallest else f"a {on}"
    yield Paragraph(f"Measured on {where}: {corners} inside corners, {bits} bit.")
    held = any(row.glue > 0 for row in compares.rows)
    pairs = zip(compares.rows, compares.codes, strict=True)
    glue = ("glue",) if held else ()
    yield Table(
        ("relief", "stops", "turns", "mm2", "mm3", *glue, "found", "shows, mm2"),
        tuple(_relief_row(row, codes, held) for row, codes in pairs),
        frozenset({1, 2, 3, 4, 5} if held else {1, 2, 3, 4}),
    )
    yield Bullets(EXPLAINED if held else EXPLAINED[:-1])


def _relief_row(row: Compared, codes: tuple[str, ...], held: bool) -> tuple[str, ...]:
    figures = (
        str(row.stops),
        str(row.turns),
        figure(row.area, 1),
        figure(row.volume, 0),
        *((figure(row.glue, 0) if row.closes else "",) if held else ()),
    )
    made = figures if row.cuts else tuple("" for _ in figures)
    return (row.relief.value, *made, " ".join(codes), _shows(row))


def _shows(row: Compared) -> str:
    """What shows, board by board: `side +x 15.4, -x 30.8; top -z 15.4`."""
    boards: dict[str, list[str]] = {}
    for board, side, area in row.shows:
        boards.setdefault(board, []).append(f"{side} {figure(area, 1)}")
    return "; ".join(f"{board} {', '.join(seen)}" for board, seen in boards.items())


EXPLAINED = (
    "stops: places on its way along the walls where the bit turns by more than 15 degrees at once "
    "and has to come to rest, or nearly; turns: changes of its heading, along an arc too. In a "
    "square corner a corner relief stops it three times, a side relief twice, a fillet once, a "
    "swept relief not at all (common practice: fewer stops, a cleaner wall).",
    "mm2, mm3: wood taken beyond what a square part needs, edges rounded for it included.",
    "shows: what of that no wood of the mate covers, closed, looking at each face.",
    "glue: side grain on side grain, mm2, that is left near enough for glue.",
)


# -- checks, kinds -------------------------------------------------------------------------------


def _checks(subject: Subject) -> Iterator[Part]:
    yield Table(("", ""), subject.checks)
    if subject.as_cut:
        yield Paragraph("On the boards as cut:")
        yield Table(("", ""), subject.as_cut)


def _kinds(subject: Subject) -> Iterator[Part]:
    if subject.kinds:
        yield Table(("", ""), subject.kinds)
