"""What are the words, numbers and signs of a text?

`scan` gives them one after another, with comments, line ends, and a `Fault` wherever a character
is no part of the language. Where the fault leaves no doubt about what was meant, what was meant
follows it as an ordinary token, so that the statement can still be read.

The patterns are those of `grammar.lark` (a test compares them), plus the usual slips.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from ..kernel.finding import Finding, Place
from .findings import (
    BadNumber,
    CurvedQuotes,
    NumberTooLong,
    OtherComment,
    OtherSign,
    StrayMark,
    UnclosedText,
    UnitApart,
)
from .limits import Limits
from .source import Source

_KEYWORDS: Final = (
    "about", "across", "along", "and", "as", "assembly", "at", "bit", "board", "cut", "design",
    "else",
    "expect", "fn", "for", "from", "grain", "if", "in", "into", "join", "let", "machine", "not",
    "of", "or", "param", "place", "stock", "swing", "test", "then", "to", "travel", "turned",
    "use", "with", "within",
)  # fmt: skip

KEYWORDS: Final[dict[str, str]] = {word: word.upper() for word in _KEYWORDS}
"""Every reserved word and its kind, which is the name of its terminal in the grammar."""

SIGNS: Final[dict[str, str]] = {
    "(": "LPAR", ")": "RPAR", "[": "LSQB", "]": "RSQB", "{": "LBRACE", "}": "RBRACE",
    ",": "COMMA", ":": "COLON", "=": "EQUAL", ".": "DOT", "..": "DOTS",
    "+": "PLUS", "-": "MINUS", "*": "STAR", "/": "SLASH",
    "==": "COMPARE", "!=": "COMPARE", "<": "COMPARE", "<=": "COMPARE", ">": "COMPARE",
    ">=": "COMPARE",
}  # fmt: skip

OTHER_SIGNS: Final[dict[str, str]] = {
    "&&": "and", "&": "and", "||": "or", "|": "or", "!": "not", "<>": "!=", "=<": "<=", "=>": ">=",
    "===": "==", ":=": "=", "...": "..", "…": "..", "..=": "..", "–": "-", "−": "-", "—": "-",
    "×": "*", "·": "*", "÷": "/", "∕": "/", "≤": "<=", "≥": ">=", "≠": "!=",
}  # fmt: skip
"""Signs of mathematics and of other languages, and what they mean here."""

UNIT_MARKS: Final[dict[str, str]] = {
    '"': "in", "”": "in", "″": "in", "'": "ft", "’": "ft", "′": "ft", "°": "deg",
}  # fmt: skip

_LENGTHS: Final = ("mm", "cm", "m", "in", "ft")
APART_UNITS: Final = (
    *_LENGTHS, *(f"{unit}{power}" for unit in _LENGTHS for power in (2, 3)), "deg", "rad",
)  # fmt: skip
"""Unit words that are recognised when they stand apart from their number."""

AXES: Final = ("x", "y", "z")
_WORDS: Final = KEYWORDS | dict.fromkeys((*AXES, "by"), "XYZ")
"""The kinds of all words but plain names. XYZ is a name or, where one is asked for, an axis or the
word `by`."""

NAME_PATTERN: Final = r"[^\W\d]\w*"
NUMBER_PATTERN: Final = (
    r"(?:[0-9]+-)?[0-9]+\/[0-9]+[^\W\d]\w*"
    r"|[0-9]+(?:\.[0-9]+)?(?:[^\W\d]\w*(?:\/(?:min|s2|s)(?!\w))?)?"
)
TEXT_PATTERN: Final = r'"[^"\r\n]*"'
COMMENT_PATTERN: Final = r"#[^\r\n]*"
BLANK_PATTERN: Final = r"[^\S\r\n]+"

_LINE_END = r"(?:\r\n|\r|\n)"
_FIGURE = r"(?:(?:[0-9]+-)?[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?)"
_OPENING, _CLOSING = "“”„‟«»‘’‚‛‹›'`", "“”„‟«»‘’‚‛‹›'`\""


def _any_of(words: dict[str, str] | tuple[str, ...]) -> str:
    return "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))


_SCANNER: Final = re.compile(
    "|".join(
        f"(?P<{kind}>{pattern})"
        for kind, pattern in (
            ("blank", BLANK_PATTERN),
            ("name", NAME_PATTERN),
            ("bad", r"[0-9]+(?:\.[0-9]+){2,}\w*|[0-9]+\.(?![.\d])\w*|[0-9]+(?:_[0-9]+)+\w*"),
            ("marked", rf"{_FIGURE}[{''.join(UNIT_MARKS)}]"),
            ("apart", rf"{_FIGURE}[ \t]+(?:{_any_of(APART_UNITS)})(?![\w(\[:])"),
            ("number", NUMBER_PATTERN),
            ("newline", rf"{_LINE_END}(?:[^\S\r\n]*{_LINE_END})*"),
            ("comment", COMMENT_PATTERN),
            ("text", TEXT_PATTERN),
            ("unclosed", r'"[^"\r\n]*'),
            ("curved", rf"[{_OPENING}][^{_CLOSING}\r\n]*[{_CLOSING}]"),
            ("remark", r"//[^\r\n]*|/\*[^\r\n]*"),
            ("point", r"(?<![\w)\]])\.[0-9]+\w*"),
            ("sign", _any_of(SIGNS | OTHER_SIGNS)),
            ("stray", r"[^\w\s\"#()\[\]{},:=.+\-*/<>!&|…–−—×·÷∕≤≥≠0-9]+|."),
        )
    )
)


class Token:
    """A word, number or sign; `type` is the name of its terminal, or NEWLINE or COMMENT.

    Not a dataclass: a frozen one takes three times as long to make, and there is one for every
    word of a text. Nothing changes a token once it is made.
    """

    __slots__ = ("end", "file", "start", "text", "type")

    def __init__(self, kind: str, text: str, file: str, start: int, end: int) -> None:
        self.type = kind
        self.text = text
        self.file = file
        self.start = start
        self.end = end

    @property
    def place(self) -> Place:
        return Place(self.file, self.start, self.end)

    def meant(self, text: str, kind: str = "") -> Token:
        """Another token at the same place."""
        return Token(kind or _kind(text), text, self.file, self.start, self.end)


@dataclass(frozen=True, slots=True)
class Fault:
    """A finding among the tokens; `is_fatal` when its statement cannot mean anything."""

    finding: Finding
    is_fatal: bool
    start: int
    end: int


def scan(source: Source, limits: Limits, start: int = 0) -> Iterator[Token | Fault]:
    """The tokens of a text in order, from an offset on; blanks are left out."""
    file = source.name
    words, signs = _WORDS, SIGNS
    most = limits.number_digits
    for match in _SCANNER.finditer(source.text, start):
        kind = match.lastgroup
        if kind == "blank":
            continue
        text = match.group()
        at, end = match.span()
        if kind == "name":
            yield Token(words.get(text, "NAME"), text, file, at, end)
        elif kind == "sign" and text in signs:
            yield Token(signs[text], text, file, at, end)
        elif kind == "number" and len(text) <= most and "/0" not in text:
            yield Token("NUMBER", text, file, at, end)
        elif kind == "newline":
            yield Token("NEWLINE", text, file, at, end)
        elif kind == "text":
            yield Token("TEXT", text, file, at, end)
        elif kind == "comment":
            yield Token("COMMENT", text, file, at, end)
        else:
            yield from _slip(str(kind), Token("", text, file, at, end), source.text, limits)


def with_next(tokens: Iterator[Token | Fault]) -> Iterator[tuple[Token | Fault, str]]:
    """Every token and the kind of the next word or sign; comments and line ends count as none."""
    held: list[Token | Fault] = []
    for token in tokens:
        if isinstance(token, Fault) or token.type in ("NEWLINE", "COMMENT"):
            if held:
                held.append(token)
            else:
                yield token, ""
            continue
        for one in held:
            yield one, token.type
        held = [token]
    for one in held:
        yield one, ""


def _kind(text: str) -> str:
    return _WORDS.get(text) or SIGNS.get(text, "NAME")


def _slip(kind: str, token: Token, whole: str, limits: Limits) -> Iterator[Token | Fault]:
    """The fault of a piece of text, and what was meant by it where that is clear."""
    match kind:
        case "number" | "bad" | "point":
            yield from _number(token, kind, limits)
        case "marked" | "apart":
            yield from _unit(token, kind, limits)
        case "unclosed":
            yield from _unclosed(token)
        case "curved":
            meant = f'"{token.text[1:-1]}"'
            yield _fault(CurvedQuotes(place=token.place, found=token.text, meant=meant))
            yield token.meant(meant, "TEXT")
        case "remark":
            yield _fault(OtherComment(place=token.place, found=token.text[:2]))
        case "sign":
            meant = OTHER_SIGNS[token.text]
            yield _fault(OtherSign(place=token.place, found=token.text, meant=meant))
            yield token.meant(meant)
        case _:
            yield _fault(StrayMark(place=token.place, found=token.text))
            if token.text == ";" and token.end < len(whole):
                yield token.meant("\n", "NEWLINE")


def _number(token: Token, kind: str, limits: Limits) -> Iterator[Token | Fault]:
    digits = sum(letter.isdigit() for letter in token.text)
    if digits > limits.number_digits:
        long = NumberTooLong(place=token.place, digits=digits, most=limits.number_digits)
        yield _fault(long, is_fatal=True)
        return
    over_nought = re.search(r"/0+(?![0-9])", token.text)
    if kind == "number" and not over_nought:
        yield token.meant(token.text, "NUMBER")
        return
    meant = None if over_nought else _mended(token.text)
    yield _fault(BadNumber(place=token.place, found=token.text, meant=meant), is_fatal=not meant)
    if meant:
        yield token.meant(meant, "NUMBER")


def _mended(text: str) -> str | None:
    """What a number that is none was to be: `.5mm`, `5.mm`, `2_440mm`; None for `1.2.3mm`."""
    if text.startswith("."):
        meant = f"0{text}"
    elif text.count(".") == 1:
        meant = text.replace(".", "")
    else:
        meant = text.replace("_", "")
    return meant if re.fullmatch(NUMBER_PATTERN, meant) else None


def _unit(token: Token, kind: str, limits: Limits) -> Iterator[Token | Fault]:
    """A number whose unit stands apart from it or is a mark such as `°`."""
    is_long = sum(letter.isdigit() for letter in token.text) > limits.number_digits
    if is_long or re.search(r"/0+(?![0-9])", token.text):
        yield from _number(token, "number", limits)
        return
    if kind == "marked":
        number, mark = token.text[:-1], token.text[-1]
        place = Place(token.file, token.end - 1, token.end)
        yield _fault(OtherSign(place=place, found=mark, meant=UNIT_MARKS[mark]))
        yield token.meant(number + UNIT_MARKS[mark], "NUMBER")
        return
    number, unit = token.text.split()
    yield _fault(UnitApart(place=token.place, number=number, unit=unit))
    yield token.meant(number + unit, "NUMBER")


def _unclosed(token: Token) -> Iterator[Token | Fault]:
    """A text without its closing mark: it ends with the line, or before a brace or remark there,
    or at a curved mark."""
    curved = re.search(rf"[{_OPENING[:-2]}]", token.text)
    body = token.text[: curved.start()] if curved else re.split(r"\s*(?:\{\s*$|#)", token.text)[0]
    body = body.rstrip()
    end = token.start + len(body)
    if curved:
        found = token.text[: curved.end()]
        wrong = CurvedQuotes(place=Place(token.file, token.start, end + 1), found=found,
                             meant=f'{body}"')  # fmt: skip
        yield _fault(wrong)
        end = token.start + curved.end()
    else:
        close = Place(token.file, end, end)
        yield _fault(UnclosedText(place=Place(token.file, token.start, end), close=close))
    yield Token("TEXT", f'{body}"', token.file, token.start, end)
    rest = token.text[end - token.start :].strip()
    if rest == "{":
        at = token.start + token.text.rindex("{")
        yield Token("LBRACE", "{", token.file, at, at + 1)


def _fault(finding: Finding, is_fatal: bool = False) -> Fault:
    place = finding.place
    start, end = (place.start, place.end) if place else (0, 0)
    return Fault(finding, is_fatal, start, end)
