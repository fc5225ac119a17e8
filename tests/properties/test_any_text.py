"""Any bytes and any text are survived, with places that lie in the text and words for all of it."""

import pytest
from dryfit.kernel.finding import Outcome, Place
from dryfit.lang.limits import DEFAULT, Limits
from dryfit.lang.parse import parse
from dryfit.lang.print import text_of
from dryfit.lang.render import drawn, message_of, pages_of
from dryfit.lang.source import Source, read_text
from dryfit.lang.syntax import Program
from dryfit.lang.tokens import KEYWORDS, OTHER_SIGNS, SIGNS
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from trees import records

FRAGMENTS = st.sampled_from(
    [
        *(*KEYWORDS, *SIGNS, *OTHER_SIGNS, "\n", "\n  ", "\r\n", "\r", ";", '"', '"a"', "“a”", "#"),
        *("//", "/*", "$", "1", "18mm", "1-1/2in", "3/0in", "1.2.3", ".5", "18 mm", "1,5mm", "3°"),
        *('4"', "x", "left", "NaN", "1e5", "\x00", "\ufeff", "\u2028", "٣", "é", "baord", "{\n"),
        *("}\n", "\t"),
    ]
)
SOUP = st.lists(FRAGMENTS, max_size=40).map(" ".join) | st.lists(FRAGMENTS, max_size=40).map(
    "".join
)
SLOW = [HealthCheck.too_slow]


def check(text: str, limits: Limits = DEFAULT) -> Outcome[Program]:
    outcome = parse(Source("a.dry", text), limits)
    assert outcome.value is not None
    for place in records((outcome.value, outcome.findings)):
        if not isinstance(place, Place):
            continue
        assert place.file == "a.dry"
        assert 0 <= place.start <= place.end <= len(text)
    pages = pages_of({"a.dry": text})
    for finding in outcome.findings:
        assert drawn(message_of(finding), pages).startswith(f"error[{finding.code}]")
    return outcome


@settings(max_examples=300, deadline=None, suppress_health_check=SLOW)
@given(st.text(max_size=60) | SOUP)
@example("")
@example("\ufeff")
def test_any_text_is_survived(text: str) -> None:
    outcome = check(text)
    assert parse(Source("a.dry", text)) == outcome
    if outcome.value is not None:
        printed = text_of(outcome.value)
        assert parse(Source("a.dry", printed)).value is not None


@settings(max_examples=150, deadline=None, suppress_health_check=SLOW)
@given(SOUP, st.integers(1, 4))
def test_any_text_is_survived_within_narrow_limits(text: str, most: int) -> None:
    narrow = Limits(statements=most, statement_words=5, nesting=most, mistakes=most)
    outcome = check(text, narrow)
    assert len(outcome.findings) <= most + 1


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=60) | SOUP.map(str.encode))
@example(b"")
@example(b"\xef\xbb\xbf")
@example(b"\xef\xbb\xbf\xff")
@example(b"\xff\xfel\x00e\x00t\x00")
@example(b"let a = 1\x00")
def test_any_bytes_are_survived(data: bytes) -> None:
    outcome = read_text("a.dry", data)
    assert (outcome.value is None) == bool(outcome.findings)
    for finding in outcome.findings:
        assert drawn(message_of(finding), pages_of({}))
    if outcome.value is not None:
        check(outcome.value.text)


N = 300_000
HOSTILE = {
    "brackets": "([{" * N,
    "parentheses": "let a = " + "(" * 100_000 + "1" + ")" * 100_000,
    "closers": "}])" * N,
    "pairs": "let a = " + "()" * N,
    "braces a line": "{\n" * N,
    "minus": "let a = " + "-" * 5_000 + "1",
    "not": "let a = " + "not " * 5_000 + "1",
    "sum": "let a = 1" + "+1" * 4_000,
    "powers of choice": "let a = " + "if a then " * 3_000,
    "members": "let a = b" + ".c" * 4_000,
    "indexes": "let a = b" + "[0]" * 3_000,
    "digits": "let a = " + "9" * 1_000_000 + "mm",
    "long line": "board " + "a " * 500_000,
    "quotes": '"' * N,
    "curved quotes": "“" * N,
    "stray marks": "$ " * N,
    "line ends": "\r" * N,
    "comments": "#\n" * N,
    "blocks": "for i in a {\n" * 20_000,
    "else if": "if a {} " + "else if a {} " * 20_000,
    "no braces": "for i in a\n" * 20_000,
    "mistakes": "let\n" * 50_000,
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_texts_end_in_few_findings(name: str) -> None:
    outcome = check(HOSTILE[name])
    assert 0 <= len(outcome.findings) <= DEFAULT.mistakes


def test_ten_million_brackets_are_refused_unread() -> None:
    outcome = read_text("a.dry", b"[" * 10_000_000)
    assert [finding.code for finding in outcome.findings] == ["L101"]
    direct = parse(Source("a.dry", "[" * 10_000_000))
    assert [finding.code for finding in direct.findings] == ["L101"]
