"""How is a finding shown: drawn in full, or on one line?

In come findings and the texts they point into, by file name; out comes text. The words are those
of `messages/`; the machine-readable form is `report.py`'s.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from ..kernel.finding import Finding, Place
from .codes import Severity, severity_of
from .columns import safe
from .drawing import Mark, Row, mended, snippet
from .lines import Lines, lines_of
from .messages import words
from .messages.summary import also_said
from .messages.words import Help, Words
from .paint import Ink, Piece, painted


@dataclass(frozen=True, slots=True, kw_only=True)
class Message:
    """A finding in words: what there is to show of it. `also` are the titles of findings of the
    same code at the same place, such as those of the other joints of one join."""

    code: str
    severity: Severity
    place: Place | None
    words: Words
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Pages:
    """The texts that findings point into, cut into lines once."""

    by_file: Mapping[str, Lines]


def pages_of(texts: Mapping[str, str]) -> Pages:
    """The texts, ready to draw from."""
    return Pages({file: lines_of(text) for file, text in texts.items()})


def messages_of(findings: tuple[Finding, ...]) -> tuple[Message, ...]:
    """The findings in words, in their order, those of one code at one place gathered into one
    message: what is amiss with a line is said once, however many boards it makes."""
    gathered: dict[tuple[str, Place | int], Message] = {}
    for order, finding in enumerate(findings):
        message = message_of(finding)
        key = (message.code, order if message.place is None else message.place)
        first = gathered.get(key)
        if first is None:
            gathered[key] = message
        elif message.words.title not in (first.words.title, *first.also):
            gathered[key] = replace(first, also=(*first.also, message.words.title))
    return tuple(gathered.values())


def message_of(finding: Finding) -> Message:
    """The finding in words; InternalError when its code has none."""
    severity = severity_of(finding)
    return Message(code=finding.code, severity=severity, place=finding.place, words=words(finding))


def one_line(message: Message, pages: Pages, about: str = "") -> str:
    """`file:line:column: error[J203]: title`; `about` is the file named when it has no place."""
    where = _where(message.place, pages) if message.place else safe(about)
    head = f"{message.severity.value}[{message.code}]: {_one(message.words.title)}"
    return f"{where}: {head}" if where else head


def drawn(message: Message, pages: Pages, colour: bool = False) -> str:
    """The whole message: title, the source with its marks, notes and ways out; no line end."""
    said = message.words
    sections = _sections(message, pages)
    mendings = [_mending(help_, pages) for help_ in said.help]
    rows = [row for _, section in sections for row in section]
    rows += [row for mending in mendings for row in mending]
    gutter = max((len(row.gutter) for row in rows), default=1)
    out = [painted(_title(message), colour)]
    for place, section in sections:
        arrow = (" " * gutter + "--> ", Ink.GUTTER)
        out.append(painted((arrow, (_where(place, pages), Ink.PLAIN)), colour))
        if section:
            out += _beside((Row(""), *section), gutter, colour)
    notes = said.notes + also_said(message.also)
    if sections and (notes or said.help):
        out += _beside((Row(""),), gutter, colour)
    for note in notes:
        out += _spoken("note: ", note, Ink.STRONG, colour)
    for help_, mending in zip(said.help, mendings, strict=True):
        out += _spoken("help: ", help_.text, Ink.HELP, colour)
        if mending:
            out += _beside((Row(""), *mending), gutter, colour)
    return "\n".join(line.rstrip(" ") for line in out)


def _title(message: Message) -> tuple[Piece, ...]:
    head = (f"{message.severity.value}[{message.code}]", _ink(message.severity))
    return (head, (f": {_one(message.words.title)}", Ink.STRONG))


def _ink(severity: Severity) -> Ink:
    return Ink.ERROR if severity is Severity.ERROR else Ink.WARNING


def _sections(message: Message, pages: Pages) -> list[tuple[Place, tuple[Row, ...]]]:
    """For each file involved, its first place and its rows; the message's own file first."""
    said = message.words
    marks = [Mark(other.place, other.text, "-", Ink.SECOND) for other in said.others]
    if message.place is not None:
        marks.insert(0, Mark(message.place, said.label, "^", _ink(message.severity)))
    by_file: dict[str, list[Mark]] = {}
    for mark in marks:
        by_file.setdefault(mark.place.file, []).append(mark)
    sections: list[tuple[Place, tuple[Row, ...]]] = []
    for file, group in by_file.items():
        lines = pages.by_file.get(file)
        rows = snippet(lines, tuple(group)) if lines is not None else ()
        sections.append((group[0].place, rows))
    return sections


def _mending(help_: Help, pages: Pages) -> tuple[Row, ...]:
    """The rows of a help's edit; none without an edit or without the text it edits."""
    if help_.edit is None or help_.edit.place.file not in pages.by_file:
        return ()
    return mended(pages.by_file[help_.edit.place.file], help_.edit)


def _where(place: Place, pages: Pages) -> str:
    """`file:line:column`, the file alone when its text is not at hand."""
    lines = pages.by_file.get(place.file)
    if lines is None:
        return safe(place.file)
    at = lines.position(place.start)
    return f"{safe(place.file)}:{at.line}:{at.column}"


def _beside(rows: tuple[Row, ...], gutter: int, colour: bool) -> list[str]:
    """The rows set beside a gutter of the given width."""
    out = []
    for row in rows:
        lead = (f"{row.gutter:>{gutter}} {row.bar}", Ink.GUTTER)
        body = painted(row.pieces, colour)
        out.append(painted((lead,), colour) + (f" {body}" if body.strip() else ""))
    return out


def _spoken(lead: str, text: str, ink: Ink, colour: bool) -> list[str]:
    """A note or help; further lines of it are set in under the first."""
    first, *rest = [safe(line) for line in text.split("\n")]
    return [painted(((lead, ink), (first, Ink.PLAIN)), colour), *(" " * 6 + line for line in rest)]


def _one(text: str) -> str:
    """The text on one line and safe to print."""
    return safe(" ".join(text.split("\n")))
