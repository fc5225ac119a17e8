"""One slip, one message; the rest of the text is understood, and the edit offered mends it."""

from collections import Counter
from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest
from dryfit.kernel.finding import Finding
from dryfit.lang.limits import DEFAULT
from dryfit.lang.messages import words
from dryfit.lang.messages.words import Edit
from dryfit.lang.parse import parse
from dryfit.lang.source import Source
from dryfit.lang.syntax import Broken, Stmt
from dryfit.lang.tokens import Token, scan
from trees import CRATE, without_places


def look(text: str) -> tuple[tuple[Stmt, ...], tuple[Finding, ...]]:
    outcome = parse(Source("a.dry", text))
    assert outcome.value is not None
    return without_places(outcome.value.statements), outcome.findings


def edits(finding: Finding) -> list[Edit]:
    return [way_out.edit for way_out in words(finding).help if way_out.edit]


def applied(text: str, edit: Edit) -> str:
    return text[: edit.place.start] + edit.text + text[edit.place.end :]


MENDED = [
    ("S103", "baord a of s x 0..1 y 0..2 z 0..3", "board a of s x 0..1 y 0..2 z 0..3"),
    ("S103", "Let a = 1", "let a = 1"),
    ("S104", 'design "Seed crate', 'design "Seed crate"'),
    ("S104", 'use "a.dry  # the rest', 'use "a.dry"  # the rest'),
    ("S104", 'test "it {\n  expect assembles\n}', 'test "it" {\n  expect assembles\n}'),
    ("S105", "let a = (1 + 2\nlet b = 3", "let a = (1 + 2)\nlet b = 3"),
    ("S105", "let a = [1, f(2]\nlet b = 3", "let a = [1, f(2)]\nlet b = 3"),
    ("S105", "stock s { thick 12mm\nlet b = 3", "stock s { thick 12mm }\nlet b = 3"),
    ("S105", "if a {\n  let b = 3\nlet c = 4", "if a {\n  let b = 3\n}\nlet c = 4"),
    ("S105", "if a {\n  if b {\n    let c = 3\n}", "if a {\n  if b {\n    let c = 3\n  }\n}"),
    ("S106", "let a = 1)", "let a = 1"),
    ("S106", "let a = 1\n}\nlet b = 2", "let a = 1\n\nlet b = 2"),
    ("S108", "design “Seed crate”", 'design "Seed crate"'),
    ("S108", "design 'Seed crate'", 'design "Seed crate"'),
    ("S108", 'design "Seed crate”', 'design "Seed crate"'),
    ("S109", "let a = 18 mm", "let a = 18mm"),
    ("S109", "stock s { sheet 1-1/2 in by 3cm }", "stock s { sheet 1-1/2in by 3cm }"),
    ("S110", "let a = 1,5mm", "let a = 1.5mm"),
    ("S110", "stock s { thick 1,5mm, sheet 1m by 2m }", "stock s { thick 1.5mm, sheet 1m by 2m }"),
    ("S112", "board a s x 0..1 y 0..2 z 0..3", "board a of s x 0..1 y 0..2 z 0..3"),
    ("S112", "board a of s x 0 1mm y 0..2 z 0..3", "board a of s x 0..1mm y 0..2 z 0..3"),
    ("S112", "join a to b dado", "join a to b with dado"),
    ("S112", "let a 3mm", "let a = 3mm"),
    ("S112", "a = 3mm", "let a = 3mm"),
    ("S112", "let a = [1 2]", "let a = [1, 2]"),
    ("S112", "for i 1..2 { }", "for i in 1..2 { }"),
    ("S112", "stock s thick 12mm }", "stock s { thick 12mm }"),
    ("S112", "let a = if b 1 else 2", "let a = if b then 1 else 2"),
    ("S113", "board a off s x 0..1 y 0..2 z 0..3", "board a of s x 0..1 y 0..2 z 0..3"),
    ("S113", "join a inot b with dado", "join a into b with dado"),
    ("S114", "let a == 3", "let a = 3"),
    ("S114", "if a = b { }", "if a == b { }"),
    ("S115", "let a = b && c", "let a = b and c"),
    ("S115", "let a = b ≤ c", "let a = b <= c"),
    ("S115", 'let a = 3/4"', "let a = 3/4in"),
    ("S115", "let a = 8°", "let a = 8deg"),
    ("S115", "let a = 0...3", "let a = 0..3"),
    ("S116", "let a = 3 // why", "let a = 3 # why"),
    ("S117", "let a = .5mm", "let a = 0.5mm"),
    ("S117", "let a = 1_000mm", "let a = 1000mm"),
    ("S118", "let a = 1 let b = 2", "let a = 1\nlet b = 2"),
    ("S119", "board a of s x 0..1, y 0..2 z 0..3", "board a of s x 0..1 y 0..2 z 0..3"),
    ("S119", "fn f(a) = = a", "fn f(a) = a"),
    ("S101", "for i = 1..2 { }", "for i in 1..2 { }"),
    ("S101", "join a and b to c with dado", "join a , b to c with dado"),
    ("S122", "for i in 1..2\n  let b = 3\n}", "for i in 1..2 {\n  let b = 3\n}"),
]  # fmt: skip


@pytest.mark.parametrize(("code", "slip", "right"), MENDED, ids=lambda text: text[:40])
def test_a_plain_slip_is_understood_and_its_edit_mends_it(code: str, slip: str, right: str) -> None:
    tree, findings = look(slip)
    assert [finding.code for finding in findings] == [code]
    meant, none = look(right)
    assert none == ()
    assert tree == meant
    (edit, *_) = edits(findings[0])
    assert look(applied(slip, edit)) == (meant, ())


BROKEN = [
    ("S101", "let a = 3 4"),
    ("S101", "(a)"),
    ("S101", "place a = b(w 3mm)"),
    ("S101", "join a, b c with dado"),
    ("S102", "let a ="),
    ("S102", "board"),
    ("S102", "board a of s x 0.."),
    ("S103", "push drawer along -y"),
    ("S107", "let a = 3 $ + 4 +"),
    ("S107", "\u200b"),
    ("S117", "let a = 1.2.3mm"),
    ("S117", "let a = 3/0in"),
    ("S120", "board a of s x 0..1 y 0..2"),
    ("S120", "board a of s x 0..1 y 0..2 y 0..2 z 0..3"),
    ("S121", "let a = 1 < b < 3"),
    ("S123", "else { }"),
    ("L105", f"let a = {'9' * 41}mm"),
]


@pytest.mark.parametrize(("code", "slip"), BROKEN, ids=lambda text: text[:40])
def test_a_doubtful_slip_is_told_once(code: str, slip: str) -> None:
    _, findings = look(slip)
    assert [finding.code for finding in findings] == [code]


def test_a_broken_statement_leaves_the_names_it_declares() -> None:
    text = (
        "let a = 3 4\nboard b[i] of s x 0.. y\njoin c to d with = as e\n"
        "for i in 1 2 {\n  board f of s x 0..1 y 0..1 z 0..1\n  join f to b with dado as g\n}\n"
    )
    outcome = parse(Source("a.dry", text))
    assert outcome.value is not None
    broken = [s for s in outcome.value.statements if isinstance(s, Broken)]
    names = [[name.text for name in statement.names] for statement in broken]
    assert names == [["a"], ["b"], ["e"], ["f", "g"]]


ALONE = ["let q = = = 3", "baord", "board q of s x 0..1", "let q = (1 + 2", 'use "q', "let $", "$"]


@pytest.mark.parametrize("slip", ALONE)
def test_a_slip_stays_within_its_line_wherever_it_stands(slip: str) -> None:
    whole, _ = look(CRATE)
    added, _ = look(slip)
    lines = CRATE.split("\n")
    places = [at for at, line in enumerate(lines) if line.lstrip().startswith(BEGINNINGS)]
    for at in places:
        indent = " " * (len(lines[at]) - len(lines[at].lstrip()))
        text = "\n".join([*lines[:at], indent + slip, *lines[at:]])
        tree, findings = look(text)
        assert len(findings) == 1, text
        assert without(tree, added) == whole, text


BEGINNINGS = ("param", "stock", "let", "board", "join", "assembly", "for", "expect")


def without(node: Any, added: tuple[Stmt, ...]) -> Any:
    """The tree without the statements that a slip has added to it."""
    if isinstance(node, tuple):
        return tuple(without(member, added) for member in node if member not in added)
    if not is_dataclass(node) or isinstance(node, type):
        return node
    inner = {f.name: without(getattr(node, f.name), added) for f in fields(node)}
    return replace(node, **inner)


def test_independent_slips_are_all_told() -> None:
    some = [(code, slip) for code, slip, _ in MENDED if "\n" not in slip] + BROKEN
    codes = Counter(finding.code for finding in look("\nlet z = 1\n".join(s for _, s in some))[1])
    assert codes == Counter(code for code, _ in some)


def test_a_text_with_one_word_left_out_or_doubled_rarely_gets_two_messages() -> None:
    source = Source("a.dry", CRATE)
    tokens = [t for t in scan(source, DEFAULT) if isinstance(t, Token)]
    real = [t for t in tokens if t.type not in ("NEWLINE", "COMMENT")]
    counts: Counter[int] = Counter()
    for token in real:
        word = CRATE[token.start : token.end]
        for text in (
            CRATE[: token.start] + CRATE[token.end :],
            f"{CRATE[: token.end]} {word}{CRATE[token.end :]}",
        ):
            counts[min(2, len(look(text)[1]))] += 1
    assert counts[2] <= 0.02 * counts.total(), counts


def test_a_stray_sign_before_the_first_line_of_a_brace_is_survived() -> None:
    """Found by random change: the sign was taken out and a line end came first in the braces."""
    parsed = parse(Source("piece.dry", "stock ply12 { ..\nthick 12mm\n\nlet a = 1\n"))
    assert parsed.value is not None
    assert [finding.code[0] for finding in parsed.findings].count("S") >= 1
