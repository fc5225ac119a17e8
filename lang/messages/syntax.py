"""The words of S codes: bytes, words, signs and statements."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from ...kernel.finding import Finding, Place
from .. import findings as f
from . import Wording
from .words import Edit, Help, Label, Words

STATEMENTS: Final = "`board`, `join`, `let`, `stock` or `for`"
"""The statements named as examples where any could begin."""

SAMPLES: Final[Mapping[str, str]] = {
    "assembly": "assembly drawer(w: length) { … }",
    "bit": "bit b6 { straight 6mm }",
    "board": "board shelf of ply12 x 0mm..300mm y 0mm..200mm z 0mm..12mm",
    "cut": "cut left from x.hi at y 37mm with bore { … }",
    "design": 'design "Seed cabinet"',
    "expect": "expect fit(back, left) within 0.1mm..0.4mm",
    "fn": "fn half(a) = a/2",
    "for": "for i in 1..4 { … }",
    "if": "if rows > 4 { … }",
    "join": "join shelf into left with dado",
    "let": "let gap = 2mm",
    "machine": "machine bench { travel 600mm by 600mm by 80mm }",
    "param": "param rows = 4 within 1..8",
    "place": "place drawer[1] = drawer(w: 300mm) at x 1mm",
    "stock": "stock ply12 { thick 12mm }",
    "test": 'test "goes together" { … }',
    "use": 'use "drawer.dry"',
}
"""How each statement is written."""


def _quoted(text: str) -> str:
    """A word of the text between back quotes, cut where it is long."""
    return f"`{text if len(text) <= 40 else text[:37] + '…'}`"


def _one_of(things: tuple[str, ...]) -> str:
    if len(things) < 2:
        return "".join(things)
    return f"{', '.join(things[:-1])} or {things[-1]}"


def _wanted(expected: tuple[str, ...], after: str, statement: str) -> tuple[str, ...]:
    """What was expected, each thing in the words of the trade."""
    return tuple(_thing(kind, after, statement) for kind in expected)


def _thing(kind: str, after: str, statement: str) -> str:
    match kind:
        case "<name>":
            return _name_wanted(after, statement)
        case "<axis>":
            if after in ("grain", "about"):
                return "an axis, `x`, `y` or `z`"
            if after == "from":
                return "a side such as `x.hi`"
            if statement == "board" and after != "at":
                return "a span such as `x 0mm..18mm`"
            return "a coordinate such as `x 12mm`"
        case "<value>":
            return "a value such as `18mm`"
        case "<number>":
            return "a number"
        case "<text>":
            return "words between quotation marks"
        case "<end>":
            return "the end of the line"
        case _:
            return f"`{kind}`"


def _name_wanted(after: str, statement: str) -> str:
    if after == "of":
        return "a stock, such as `ply12`"
    if after == "with":
        return "a cut, such as `bore`" if statement == "cut" else "a joint, such as `dado`"
    if statement in ("join", "cut") and after in ("join", "cut", "to", "into", "across", ","):
        return "a board"
    if after in ("{", ","):
        return "a word such as `thick`"
    if statement == "place" and after == "=":
        return "an assembly with its values, such as `drawer(w: 300mm)`"
    return "a name"


def _written(statement: str) -> tuple[str, ...]:
    """A note that shows how a statement is written."""
    return (f"it is written `{SAMPLES[statement]}`",) if statement in SAMPLES else ()


def _empty_at(place: Place | None, at_end: bool = False) -> Place:
    place = place or Place("", 0, 0)
    at = place.end if at_end else place.start
    return Place(place.file, at, at)


def _instead(finding: Finding, sentence: str, text: str) -> Help:
    """A way out that puts `text` in the finding's own place."""
    return Help(sentence, Edit(finding.place, text) if finding.place else None)


# ---- bytes ---------------------------------------------------------------------------------------


def not_utf8(finding: f.NotUtf8) -> Words:
    if finding.encoding:
        title = f"the file is written as {finding.encoding}, which is not read"
    else:
        title = f"byte {finding.byte}, on line {finding.line}, is no UTF-8 text"
    notes = () if finding.encoding else (f"the byte there is {finding.value:#04x}",)
    return Words(title=title, notes=notes, help=(Help("save the file as UTF-8 text"),))


def nul_character(finding: f.NulCharacter) -> Words:
    return Words(
        title=f"the file is no text: byte {finding.byte}, on line {finding.line}, is 0",
        help=(Help("check that this is the `.dry` file that was meant"),),
    )


def nothing_written(_: f.NothingWritten) -> Words:
    return Words(
        title="the file holds no design: nothing is written in it but blanks and comments",
        help=(Help("a design has at least a stock and a board: `dryfit explain S003` shows one"),),
    )


# ---- words and signs -----------------------------------------------------------------------------


def unexpected_word(finding: f.UnexpectedWord) -> Words:
    found = _quoted(finding.found)
    if not finding.after:
        return Words(
            title=f"a line cannot begin with {found}",
            label="no statement begins so",
            notes=(f"a statement begins with its own word, such as {STATEMENTS}",),
        )
    wanted = _one_of(_wanted(finding.expected, finding.after, finding.statement))
    title = f"{found} cannot follow {_quoted(finding.after)} here"
    only = finding.expected[0] if len(finding.expected) == 1 else "<"
    help_ = () if only.startswith("<") else (_instead(finding, f"write `{only}`", only),)
    label = f"expected {wanted}" if wanted else ""
    return Words(title=title, label=label, notes=_written(finding.statement), help=help_)


def ends_too_soon(finding: f.EndsTooSoon) -> Words:
    wanted = _one_of(_wanted(finding.expected, finding.after, finding.statement))
    title = f"the line stops after {_quoted(finding.after)}"
    label = f"expected {wanted} after this" if wanted else ""
    return Words(title=title, label=label, notes=_written(finding.statement))


def unknown_statement(finding: f.UnknownStatement) -> Words:
    found = _quoted(finding.found)
    if finding.near is None:
        return Words(
            title=f"no statement begins with {found}",
            notes=(f"a statement begins with its own word, such as {STATEMENTS}",),
        )
    way_out = _instead(finding, f"write `{finding.near}`", finding.near)
    return Words(
        title=f"no statement begins with {found}",
        label=f"`{finding.near}` is meant?",
        help=(way_out,),
    )


def unclosed_text(finding: f.UnclosedText) -> Words:
    return Words(
        title='these words have no closing `"`',
        label="they begin here",
        notes=("words between quotation marks stay on one line",),
        help=(Help("close them on the same line", Edit(finding.close, '"')),),
    )


def unclosed(finding: f.Unclosed) -> Words:
    of = f" of `{finding.statement}`" if finding.statement else ""
    return Words(
        title=f"the `{finding.opener}`{of} is never closed",
        label="opened here",
        others=(Label(finding.before, f"`{finding.closer}` is missing here at the latest"),),
        help=(Help(f"write `{finding.closer}`", Edit(finding.before, _closing(finding))),),
    )


def _closing(finding: f.Unclosed) -> str:
    """How the missing sign is put in: a block's brace on a line of its own."""
    is_block = finding.opener == "{" and finding.statement in (
        "for",
        "if",
        "else",
        "assembly",
        "test",
    )
    if is_block:
        return f"\n{' ' * finding.indent}}}"
    return " }" if finding.opener == "{" else finding.closer


def stray_closer(finding: f.StrayCloser) -> Words:
    return Words(
        title=f"this `{finding.found}` closes nothing",
        help=(_instead(finding, "take it out, or open what it is to close", ""),),
    )


def stray_mark(finding: f.StrayMark) -> Words:
    if finding.found == ";":
        return Words(
            title="a statement ends with its line, not with `;`",
            help=(_instead(finding, "take the `;` out", ""),),
        )
    shown = finding.found
    title = f"{_quoted(shown)} means nothing here"
    if len(shown) == 1 and not shown.isprintable():
        title = f"a character that cannot be seen, U+{ord(shown):04X}, means nothing here"
    return Words(title=title, help=(Help("take it out, or write in words what it is to mean"),))


def curved_quotes(finding: f.CurvedQuotes) -> Words:
    return Words(
        title='words stand between `"` marks, no others',
        help=(_instead(finding, f"write {finding.meant}", finding.meant),),
    )


def unit_apart(finding: f.UnitApart) -> Words:
    meant = finding.number + finding.unit
    return Words(
        title=f"the unit `{finding.unit}` stands apart from its number",
        help=(_instead(finding, f"write `{meant}`", meant),),
    )


def comma_in_number(finding: f.CommaInNumber) -> Words:
    return Words(
        title=f"`{finding.found}` has a comma where a point belongs",
        notes=("a comma parts the members of a list",),
        help=(_instead(finding, f"write `{finding.meant}`", finding.meant),),
    )


def reserved_name(finding: f.ReservedName) -> Words:
    return Words(
        title=f"`{finding.word}` is a word of the language and cannot be a name",
        help=(Help(f"choose another, such as `{finding.word}_1`, wherever it is used"),),
    )


def missing_word(finding: f.MissingWord) -> Words:
    title = f"`{finding.missing}` is missing"
    if finding.after:
        title += f" after {_quoted(finding.after)}"
    elif finding.found:
        title += f" before {_quoted(finding.found)}"
    sign = finding.missing
    before = "" if sign in ("..", ",", ":", ")", "]") or not finding.after else " "
    after = "" if sign == ".." or not finding.found else " "
    way_out = Help(f"write `{sign}`", Edit(finding.gap, f"{before}{sign}{after}"))
    label = f"`{sign}` belongs before this" if finding.found else ""
    return Words(title=title, label=label, notes=_written(finding.statement), help=(way_out,))


def misspelt(finding: f.Misspelt) -> Words:
    return Words(
        title=f"{_quoted(finding.found)} is not a word that can stand here",
        label=f"`{finding.meant}` is meant?",
        help=(_instead(finding, f"write `{finding.meant}`", finding.meant),),
    )


def equals_mixed_up(finding: f.EqualsMixedUp) -> Words:
    if finding.meant == "==":
        title = "`=` gives a name its value; two values are compared with `==`"
    else:
        title = "`==` compares two values; a name is given its value with `=`"
    return Words(title=title, help=(_instead(finding, f"write `{finding.meant}`", finding.meant),))


def other_sign(finding: f.OtherSign) -> Words:
    return Words(
        title=f"`{finding.found}` is written `{finding.meant}` here",
        help=(_instead(finding, f"write `{finding.meant}`", finding.meant),),
    )


def other_comment(finding: f.OtherComment) -> Words:
    start = finding.place or Place("", 0, 0)
    mark = Place(start.file, start.start, start.start + len(finding.found))
    return Words(
        title=f"a remark begins with `#`, not with `{finding.found}`",
        help=(Help("write `#`", Edit(mark, "#")),),
    )


def bad_number(finding: f.BadNumber) -> Words:
    found = _quoted(finding.found)
    if finding.meant is None:
        over_nought = "/" in finding.found
        why = "nothing can be divided by 0" if over_nought else "a number has one point at most"
        return Words(title=f"{found} is no number", notes=(why,))
    return Words(
        title=f"{found} is no number",
        notes=("a point has a digit on both its sides, and no other sign stands among the digits",),
        help=(_instead(finding, f"write `{finding.meant}`", finding.meant),),
    )


# ---- statements ----------------------------------------------------------------------------------


def two_on_a_line(finding: f.TwoOnALine) -> Words:
    after = "a closing `}`" if finding.statement == "}" else f"the `{finding.statement}` before it"
    way_out = Help("begin a new line", Edit(_empty_at(finding.place), "\n"))
    return Words(title=f"`{finding.keyword}` stands on the line of {after}", help=(way_out,))


def extra_word(finding: f.ExtraWord) -> Words:
    return Words(
        title=f"{_quoted(finding.found)} is not wanted after {_quoted(finding.after)}",
        notes=_written(finding.statement),
        help=(_instead(finding, "take it out", ""),),
    )


def spans_amiss(finding: f.SpansAmiss) -> Words:
    if finding.twice:
        axis = finding.twice[0]
        title = f"`{finding.board}` has two spans along {axis}"
        if finding.missing:
            title += f" and none along {_one_of(finding.missing)}"
        return Words(title=title, label=f"the second along {axis}", notes=_written("board"))
    axes = " and ".join(finding.missing)
    return Words(
        title=f"`{finding.board}` has no span along {axes}",
        notes=("a board fills a box: it needs a span along each of x, y and z", *_written("board")),
    )


def chained_comparison(finding: f.ChainedComparison) -> Words:
    return Words(
        title="three values cannot be compared at a time",
        label="the second comparison",
        help=(
            Help(
                f"join two comparisons with `and`, or ask whether `{finding.middle}` "
                "lies `within` two bounds"
            ),
        ),
    )


def no_block(finding: f.NoBlock) -> Words:
    after = Edit(_empty_at(finding.place, at_end=True), " {")
    return Words(
        title=f"`{finding.statement}` has no `{{` for what belongs to it",
        label="`{` is missing after this",
        help=(Help("open its braces on the same line", after),),
    )


def else_alone(finding: f.ElseAlone) -> Words:
    return Words(
        title="this `else` follows no `if`",
        notes=("`else` comes right after the `}` of an `if`",),
    )


WORDS: Mapping[type[Finding], Wording] = {
    f.NotUtf8: not_utf8,
    f.NulCharacter: nul_character,
    f.NothingWritten: nothing_written,
    f.UnexpectedWord: unexpected_word,
    f.EndsTooSoon: ends_too_soon,
    f.UnknownStatement: unknown_statement,
    f.UnclosedText: unclosed_text,
    f.Unclosed: unclosed,
    f.StrayCloser: stray_closer,
    f.StrayMark: stray_mark,
    f.CurvedQuotes: curved_quotes,
    f.UnitApart: unit_apart,
    f.CommaInNumber: comma_in_number,
    f.ReservedName: reserved_name,
    f.MissingWord: missing_word,
    f.Misspelt: misspelt,
    f.EqualsMixedUp: equals_mixed_up,
    f.OtherSign: other_sign,
    f.OtherComment: other_comment,
    f.BadNumber: bad_number,
    f.TwoOnALine: two_on_a_line,
    f.ExtraWord: extra_word,
    f.SpansAmiss: spans_amiss,
    f.ChainedComparison: chained_comparison,
    f.NoBlock: no_block,
    f.ElseAlone: else_alone,
}
