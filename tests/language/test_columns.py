"""What is shown for any character and how wide it is, and where lines begin."""

from dryfit.lang.columns import cells, safe, width
from dryfit.lang.lines import lines_of
from hypothesis import given
from hypothesis import strategies as st


def test_runs_from_right_to_left_are_isolated_whole() -> None:
    assert safe('let a = "שלום 12 עולם" + b') == 'let a = "\u2067שלום 12 עולם\u2069" + b'
    assert safe("ש a ש") == "\u2067ש\u2069 a \u2067ש\u2069"


@given(st.text(max_size=60))
def test_lines_are_found_and_put_together_again(text: str) -> None:
    lines = lines_of(text)
    again = "".join(
        lines.line(n + 1) + text[lines.ends[n] : (*lines.starts[1:], len(text))[n]]
        for n in range(len(lines.starts))
    )
    assert again == text
    for offset in range(len(text) + 1):
        where = lines.position(offset)
        assert lines.starts[where.line - 1] + where.column - 1 == offset


def test_columns_are_those_a_terminal_takes() -> None:
    # Unicode Standard Annex 11: W and F take two columns, all others one.
    assert width(cells("ab")) == 2
    assert width(cells("幅ｗ")) == 4
    assert width(cells("한")) == 2
    assert width(cells("\u1112\u1161\u11ab")) == 2
    assert width(cells("e\u0301")) == 1
    assert width(cells("a\tb")) == 5
    assert width(cells("abcd\tb")) == 9
