"""Which slip of the pen keeps a statement from being read, and what was meant?

The statement is read up to the word where it gets stuck. Then each known slip is tried in turn: a
word misspelt, left out, too many, two statements on one line. A slip that leaves no doubt is
mended in the tokens, so that the statement counts as understood; of one that does, only what was
found and what was expected can be told.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, Protocol

from ..kernel.finding import Finding, Place
from ..kernel.near import nearest
from .findings import (
    ChainedComparison,
    CommaInNumber,
    EndsTooSoon,
    EqualsMixedUp,
    ExtraWord,
    MissingWord,
    Misspelt,
    ReservedName,
    TwoOnALine,
    UnexpectedWord,
    UnknownStatement,
)
from .starts import START_WORDS, STARTS
from .syntax import Stmt
from .tokens import KEYWORDS, SIGNS, Token

_ROUNDS: Final = 6
"""Slips mended in one statement; with more it is no longer clear what was meant."""

_LONGEST: Final = 300
"""Tokens of a statement in which slips are tried out, as that costs a reading each."""

_SEVERAL: Final = 3
"""Tokens that must be readable after a mended slip to believe in it."""

_OPERATORS: Final = frozenset(
    {"PLUS", "MINUS", "STAR", "SLASH", "COMPARE", "AND", "OR", "NOT", "WITHIN", "IF"}
    | {"DOT", "LSQB", "LPAR"}
)
"""What may follow or begin nearly every value and so is neither offered nor tried."""

_SPELT: Final = {
    kind: text
    for text, kind in (*KEYWORDS.items(), ("by", "BY"), *SIGNS.items())
    if kind not in _OPERATORS and kind not in STARTS - {"FOR"} and kind != "RBRACE"
}
"""The kinds with one spelling that are tried where something is missing."""

_NAMES: Final = ("NAME", "XYZ")

_KINDS: Final = {
    "NAME": "<name>", "NUMBER": "<number>", "TEXT": "<text>", "AXIS": "<axis>", "$END": "<end>",
}  # fmt: skip


class Reading(Protocol):
    """A statement read up to some token; what `parse.py` makes of the parser."""

    def feed(self, token: Token) -> bool: ...
    def finish(self) -> Stmt | None: ...
    def expected(self) -> frozenset[str]: ...
    def fork(self) -> Reading: ...


@dataclass(frozen=True, slots=True)
class Mended:
    """The statement as understood, None when it was not; what was found; and the tokens of a
    second statement on its line."""

    record: Stmt | None
    findings: tuple[Finding, ...]
    rest: tuple[Token, ...] = ()


@dataclass(frozen=True, slots=True)
class Slip:
    """A finding, and the tokens as they were meant, None when that is not clear."""

    finding: Finding
    tokens: tuple[Token, ...] | None = None
    rest: tuple[Token, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Stuck:
    """A statement read up to `tokens[at]`, which cannot follow; past the last one it is the end."""

    tokens: tuple[Token, ...]
    at: int
    fresh: Callable[[], Reading]
    before: Reading
    expected: frozenset[str]

    @property
    def token(self) -> Token:
        """What cannot follow; at the end of the statement an empty token."""
        if self.at < len(self.tokens):
            return self.tokens[self.at]
        last = self.tokens[-1]
        return Token("$END", "", last.file, last.end, last.end)

    @property
    def last(self) -> str:
        """The text of the token before, "" at the start."""
        return self.tokens[self.at - 1].text if self.at else ""

    @property
    def keyword(self) -> str:
        first = self.tokens[0]
        return first.text if first.type in STARTS else ""

    def with_tokens(self, start: int, end: int, *meant: Token) -> tuple[Token, ...]:
        """The statement with the tokens `start..end` replaced."""
        return (*self.tokens[:start], *meant, *self.tokens[end:])

    def reach(self, meant: Sequence[Token], skipped: int) -> int:
        """How many tokens after the stuck one can be read if it and the next ones, `skipped` in
        all, are replaced with `meant`; the number of tokens and one more if all can be."""
        reading = self.before.fork()
        if readable(reading, meant) < len(meant):
            return -1
        following = self.tokens[self.at + skipped :]
        reach = readable(reading, following)
        is_whole = reach == len(following) and reading.finish() is not None
        return len(self.tokens) + 1 if is_whole else reach

    def is_complete(self, reach: int) -> bool:
        return reach > len(self.tokens)

    def is_believable(self, reach: int) -> bool:
        """Whether the statement, mended so, can be read on far enough to believe in the slip."""
        return self.is_complete(reach) or reach >= _SEVERAL


def readable(reading: Reading, tokens: Sequence[Token]) -> int:
    """How many of the tokens can be read."""
    return next((at for at, token in enumerate(tokens) if not reading.feed(token)), len(tokens))


def mend(fresh: Callable[[], Reading], tokens: Sequence[Token], told: set[str]) -> Mended:
    """What is wrong with a statement that cannot be read. `told` holds the reserved words that were
    reported as names before, and gains those reported now."""
    now = tuple(tokens)
    rest: tuple[Token, ...] = ()
    findings: list[Finding] = []
    for _ in range(_ROUNDS):
        read = _read(fresh, now)
        if not isinstance(read, Stuck):
            return Mended(read, tuple(findings), rest)
        slip = _slip(read, told)
        if not (findings and slip.tokens is None):
            findings += _news(slip.finding, findings, told)
        rest = slip.rest or rest
        if slip.tokens is None:
            break
        now = slip.tokens
    return Mended(None, tuple(findings), rest)


def _news(finding: Finding, before: Sequence[Finding], told: set[str]) -> list[Finding]:
    """The finding, unless the same slip was reported already."""
    if isinstance(finding, ReservedName):
        known = finding.word in told
        told.add(finding.word)
        return [] if known else [finding]
    twins = (replace(other, place=None) for other in before)
    is_twin = isinstance(finding, ExtraWord) and any(
        isinstance(twin, ExtraWord) and twin.found == finding.found for twin in twins
    )
    return [] if is_twin else [finding]


def _read(fresh: Callable[[], Reading], tokens: tuple[Token, ...]) -> Stmt | Stuck:
    """The record, or where the reading gets stuck."""
    reading, at = fresh(), len(tokens)
    for index, token in enumerate(tokens):
        if not reading.feed(token):
            at = index
            break
    else:
        record = reading.finish()
        if record is not None:
            return record
    before = fresh()  # the one that failed has gone too far to tell what it would have taken
    for token in tokens[:at]:
        before.feed(token)
    expected = before.expected()
    return Stuck(tokens=tokens, at=at, fresh=fresh, before=before, expected=expected)


def _slip(stuck: Stuck, told: set[str]) -> Slip:
    """The first slip that explains why the statement is stuck."""
    if len(stuck.tokens) <= _LONGEST:
        for explain in _SLIPS:
            slip = explain(stuck)
            if slip is not None:
                return slip
    return _unexpected(stuck, _offered(stuck.expected))


# ---- the slips, the surest first -----------------------------------------------------------------


def _two_on_a_line(stuck: Stuck) -> Slip | None:
    token = stuck.token
    if token.type not in STARTS or "$END" not in stuck.expected:
        return None
    rest = stuck.tokens[stuck.at :]
    if readable(stuck.fresh(), rest) < min(_SEVERAL, len(rest)):
        return None
    finding = TwoOnALine(place=token.place, keyword=token.text, statement=stuck.tokens[0].text)
    return Slip(finding, stuck.tokens[: stuck.at], stuck.tokens[stuck.at :])


def _unknown_statement(stuck: Stuck) -> Slip | None:
    """The first word begins no statement: it is misspelt, or `let` is missing, or anything."""
    token = stuck.token
    if stuck.at > 0:
        return None
    if token.type not in (*_NAMES, *KEYWORDS.values()):
        return Slip(_unexpected(stuck, ()).finding)
    let = token.meant("let")
    if len(stuck.tokens) > 1 and stuck.tokens[1].type == "EQUAL":
        gap = Place(token.file, token.start, token.start)
        missing = MissingWord(
            place=token.place, missing="let", after="", found=token.text, gap=gap, statement="let"
        )
        return Slip(missing, (let, *stuck.tokens))
    near = nearest(token.text, START_WORDS)
    finding = UnknownStatement(place=token.place, found=token.text, near=near)
    if near is None:
        return Slip(finding)
    return Slip(finding, stuck.with_tokens(0, 1, token.meant(near)))


def _reserved_name(stuck: Stuck) -> Slip | None:
    token = stuck.token
    if token.type not in KEYWORDS.values() or "NAME" not in stuck.expected:
        return None
    name = token.meant(token.text, "NAME")
    reach = stuck.reach([name], 1)
    if not stuck.is_believable(reach):
        return None
    finding = ReservedName(place=token.place, word=token.text, statement=stuck.keyword)
    return Slip(finding, stuck.with_tokens(stuck.at, stuck.at + 1, name))


def _comma_in_number(stuck: Stuck) -> Slip | None:
    comma = stuck.at if stuck.token.type == "COMMA" else stuck.at - 1
    if not 0 < comma < len(stuck.tokens) - 1:
        return None
    whole, sign, part = stuck.tokens[comma - 1 : comma + 2]
    is_glued = whole.end == sign.start and sign.end == part.start
    is_number = whole.text.isdigit() and part.type == "NUMBER" and part.text[0].isdigit()
    if sign.type != "COMMA" or not is_glued or not is_number or not _is_plain(part.text):
        return None
    place = Place(whole.file, whole.start, part.end)
    meant = f"{whole.text}.{part.text}"
    number = Token("NUMBER", meant, whole.file, whole.start, part.end)
    finding = CommaInNumber(place=place, found=f"{whole.text},{part.text}", meant=meant)
    return Slip(finding, stuck.with_tokens(comma - 1, comma + 2, number))


def _is_plain(text: str) -> bool:
    """Whether a number has no point, stroke or dash of its own."""
    digits = text.rstrip("/23")
    return not any(letter in digits for letter in ".-") and "/" not in text.partition("m")[0]


def _equals(stuck: Stuck) -> Slip | None:
    token = stuck.token
    pairs = {"=": ("COMPARE", "=="), "==": ("EQUAL", "=")}
    if token.text not in pairs or pairs[token.text][0] not in stuck.expected:
        return None
    kind, meant = pairs[token.text]
    reach = stuck.reach([token.meant(meant, kind)], 1)
    if not stuck.is_believable(reach):
        return None
    finding = EqualsMixedUp(place=token.place, found=token.text, meant=meant)
    return Slip(finding, stuck.with_tokens(stuck.at, stuck.at + 1, token.meant(meant, kind)))


def _chained_comparison(stuck: Stuck) -> Slip | None:
    """A second comparison on the same level: look back for the first one."""
    token = stuck.token
    if token.type != "COMPARE":
        return None
    depth = 0
    for index in range(stuck.at - 1, 0, -1):
        kind = stuck.tokens[index].type
        depth += (kind in ("RPAR", "RSQB")) - (kind in ("LPAR", "LSQB"))
        if depth < 0 or (depth == 0 and kind in ("AND", "OR", "NOT", "COMMA")):
            return None
        if depth == 0 and kind == "COMPARE":
            between = stuck.tokens[index + 1 : stuck.at]
            middle = " ".join(token.text for token in between[:4])
            return Slip(ChainedComparison(place=token.place, middle=middle, found=token.text))
    return None


def _misspelt(stuck: Stuck) -> Slip | None:
    token = stuck.token
    words = [text for kind, text in _SPELT.items() if kind in stuck.expected and text.isalpha()]
    near = nearest(token.text, words) if token.type in _NAMES else None
    if near is None:
        return None
    meant = token.meant(near)
    reach = stuck.reach([meant], 1)
    if not stuck.is_believable(reach):
        return None
    finding = Misspelt(place=token.place, found=token.text, meant=near)
    return Slip(finding, stuck.with_tokens(stuck.at, stuck.at + 1, meant))


def _missing(stuck: Stuck) -> Slip | None:
    token = stuck.token
    reaches = dict(_reaches(stuck, 0))
    if stuck.expected & {"$END", "COMMA"}:
        reaches.pop("DOTS", None)  # two values side by side are no range
    likely = [kind for kind, reach in reaches.items() if stuck.is_complete(reach)] or [
        kind for kind, reach in reaches.items() if stuck.is_believable(reach)
    ]
    if len(likely) != 1:
        return None
    (kind,) = likely
    at = stuck.tokens[stuck.at - 1].end
    sign = Token(kind, _SPELT[kind], token.file, at, at)
    gap = Place(token.file, at, max(at, token.start))
    finding = MissingWord(
        place=token.place,
        missing=sign.text,
        after=stuck.last,
        found=token.text,
        gap=gap,
        statement=stuck.keyword,
    )
    return Slip(finding, stuck.with_tokens(stuck.at, stuck.at, sign))


def _other_word(stuck: Stuck) -> Slip | None:
    """Just one other word or sign in its place makes the statement whole."""
    token = stuck.token
    fitting = [kind for kind, reach in _reaches(stuck, 1) if stuck.is_complete(reach)]
    if len(fitting) != 1 or token.type in ("$END", "NUMBER", "TEXT"):
        return None
    meant = token.meant(_SPELT[fitting[0]])
    finding = _unexpected(stuck, (meant.text,)).finding
    return Slip(finding, stuck.with_tokens(stuck.at, stuck.at + 1, meant))


def _extra(stuck: Stuck) -> Slip | None:
    token = stuck.token
    if token.type in ("$END", "NUMBER", "TEXT", *_NAMES):
        return None
    reach = stuck.reach([], 1)
    if not stuck.is_believable(reach):
        return None
    finding = ExtraWord(
        place=token.place, found=token.text, after=stuck.last, statement=stuck.keyword
    )
    return Slip(finding, stuck.with_tokens(stuck.at, stuck.at + 1))


_SLIPS: Final[tuple[Callable[[Stuck], Slip | None], ...]] = (
    _two_on_a_line,
    _unknown_statement,
    _reserved_name,
    _comma_in_number,
    _equals,
    _chained_comparison,
    _misspelt,
    _missing,
    _other_word,
    _extra,
)


def _reaches(stuck: Stuck, skipped: int) -> Iterator[tuple[str, int]]:
    """For every word or sign that could stand here, how far the statement can be read with it."""
    token = stuck.token
    for kind, text in _SPELT.items():
        if kind in stuck.expected:
            yield kind, stuck.reach([token.meant(text, kind)], skipped)


# ---- what was expected ---------------------------------------------------------------------------


def _unexpected(stuck: Stuck, expected: tuple[str, ...]) -> Slip:
    """The last resort: what was found, and what could have stood there."""
    token = stuck.token
    if token.type == "$END":
        return Slip(
            EndsTooSoon(
                place=stuck.tokens[-1].place,
                after=stuck.last,
                expected=expected,
                statement=stuck.keyword,
            )
        )
    return Slip(
        UnexpectedWord(
            place=token.place,
            found=token.text,
            after=stuck.last,
            expected=expected,
            statement=stuck.keyword,
        )
    )


def _offered(expected: frozenset[str]) -> tuple[str, ...]:
    """What is worth offering of all that could follow: no operator, and a value as one thing."""
    offered = []
    if "NUMBER" in expected:
        offered.append("<value>")
        expected -= {"NUMBER", "NAME", "TEXT"}
    if "$END" in expected:
        expected -= {"DOTS"}
    offered += [sign for kind, sign in _KINDS.items() if kind in expected and kind != "$END"]
    offered += [text for kind, text in _SPELT.items() if kind in expected]
    offered += ["}"] if "RBRACE" in expected else []
    return (*offered, "<end>") if "$END" in expected else tuple(offered)
