"""Printing a tree and reading the print give the tree again; printing twice changes nothing."""

from dryfit.lang.parse import parse
from dryfit.lang.print import text_of
from dryfit.lang.source import Source
from dryfit.lang.syntax import Program
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tree_strategies import PROGRAMS
from trees import without_places

COMMENTS = st.text(st.characters(exclude_characters="\r\n", exclude_categories=["Cs"]), max_size=9)


def read(text: str) -> Program:
    outcome = parse(Source("a.dry", text))
    assert outcome.findings == (), text
    assert outcome.value is not None
    return outcome.value


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(PROGRAMS)
def test_what_is_printed_is_read_as_the_same_tree(program: Program) -> None:
    text = text_of(program)
    assert without_places(read(text)) == without_places(program), text


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(PROGRAMS, st.data())
def test_comments_anywhere_are_kept_and_the_second_print_is_the_first(
    program: Program, data: st.DataObject
) -> None:
    lines = text_of(program).split("\n")
    words: list[str] = []
    for at in range(len(lines)):
        comment = data.draw(st.none() | COMMENTS)
        if comment is not None:
            words.append(comment.rstrip())
            own_line = data.draw(st.booleans())
            lines[at] = f"#{comment}\n{lines[at]}" if own_line else f"{lines[at]} #{comment}"
    noted = read("\n".join(lines))
    assert [comment.text for comment in noted.comments] == words
    printed = text_of(noted)
    again = read(printed)
    assert [comment.text for comment in again.comments] == words
    assert without_places(again.statements) == without_places(program.statements)
    assert text_of(again) == printed
