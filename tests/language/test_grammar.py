"""The grammar of whole files says what `parse` does, and the scanner's words are the grammar's."""

from pathlib import Path

import pytest
from dryfit.lang.parse import parse
from dryfit.lang.source import Source
from dryfit.lang.starts import STARTS
from dryfit.lang.tokens import (
    BLANK_PATTERN,
    COMMENT_PATTERN,
    KEYWORDS,
    NAME_PATTERN,
    NUMBER_PATTERN,
    SIGNS,
    TEXT_PATTERN,
)
from lark import Lark, UnexpectedInput
from trees import CRATE

ROOT = Path(__file__).parents[2]
GRAMMAR = Lark(
    (ROOT / "lang" / "grammar.lark").read_text("utf-8"), parser="lalr", start=["program", "line"]
)
EXAMPLES = sorted((ROOT / "examples").glob("*.dry"))


def test_scanner_and_grammar_have_the_same_words_signs_and_patterns() -> None:
    fixed = {t.pattern.value: t.name for t in GRAMMAR.terminals if t.pattern.type == "str"}
    compared = {sign for sign, kind in SIGNS.items() if kind == "COMPARE"}
    assert fixed == {**KEYWORDS, **{s: kind for s, kind in SIGNS.items() if s not in compared}}
    patterns = {
        t.name: t.pattern.value.replace("\r", r"\r").replace("\n", r"\n")
        for t in GRAMMAR.terminals
        if t.pattern.type == "re"
    }
    assert patterns["NAME"] == NAME_PATTERN
    assert patterns["NUMBER"] == NUMBER_PATTERN
    assert patterns["TEXT"] == TEXT_PATTERN
    assert patterns["COMMENT"] == COMMENT_PATTERN
    assert patterns["BLANK"] == BLANK_PATTERN
    assert set(patterns["COMPARE"].strip("(?:)").split("|")) == compared


def test_a_statement_begins_with_a_word_of_the_grammar() -> None:
    begins = GRAMMAR.parse_interactive(start="line").accepts()
    assert begins == STARTS


def accepts(text: str) -> bool:
    """Whether the grammar of whole files takes a text. Lines that go on below are not its own."""
    try:
        GRAMMAR.parse(text, start="program")
    except UnexpectedInput:
        return False
    return True


@pytest.mark.parametrize(
    "text",
    [
        CRATE.replace("\n    at x", " at x"),
        *[path.read_text("utf-8").replace("\n    at ", " at ") for path in EXAMPLES],
    ],
)
def test_both_take_whole_designs(text: str) -> None:
    assert parse(Source("a.dry", text)).findings == ()
    assert accepts(text)


@pytest.mark.parametrize(
    "line",
    [
        "let a = 1 2",
        "board a of s",
        "join a to b",
        "let a = b < c < d",
        "expect",
        "param a = (1",
        "if a { let b = 1",
        "stock s { thick }}",
        "place a = b",
        "for i in 1..2",
        "let a = [b: 1]",
    ],
)
def test_both_refuse_what_is_no_statement(line: str) -> None:
    assert parse(Source("a.dry", line)).findings
    assert not accepts(line)
