"""Bytes and the text they hold."""

import pytest
from dryfit.lang.limits import Limits
from dryfit.lang.lines import Position
from dryfit.lang.parse import parse
from dryfit.lang.source import Source, read_text


def text_of(data: bytes) -> Source:
    outcome = read_text("a.dry", data)
    assert outcome.findings == ()
    assert outcome.value is not None
    return outcome.value


def test_a_byte_order_mark_is_no_part_of_the_text() -> None:
    source = text_of(b"\xef\xbb\xbflet a = 1")
    assert source.text == "let a = 1"
    program = parse(source).value
    assert program is not None
    assert program.statements[0].place.start == 0


def test_offsets_count_characters() -> None:
    source = text_of("# é\r\nlet 板 = 1 2".encode())
    (finding,) = parse(source).findings
    assert finding.place is not None
    assert source.text[finding.place.start : finding.place.end] == "2"
    assert source.lines.position(finding.place.start) == Position(line=2, column=11)


@pytest.mark.parametrize(
    ("data", "code", "byte", "line", "start"),
    [
        (b"\xe9", "S001", 0, 1, 0),
        (b"# \xc3\xa9\nlet \xe9", "S001", 9, 2, 8),
        (b"\xef\xbb\xbfab\xff", "S001", 5, 1, 2),
        ("let a = 1".encode("utf-16"), "S001", 0, 1, 0),
        ("let a = 1".encode("utf-32"), "S001", 0, 1, 0),
        (b"# \xc3\xa9\n\0", "S002", 5, 2, 4),
        (b"\xef\xbb\xbf\n\0", "S002", 4, 2, 1),
    ],
)
def test_what_is_no_text_is_told_by_its_byte(
    data: bytes, code: str, byte: int, line: int, start: int
) -> None:
    outcome = read_text("a.dry", data)
    assert outcome.value is None
    (finding,) = outcome.findings
    assert finding.code == code
    assert finding.place is not None
    assert finding.place.start == start
    assert (finding.byte, finding.line) == (byte, line)  # type: ignore[attr-defined]


def test_a_file_too_large_is_not_even_decoded() -> None:
    outcome = read_text("a.dry", b"\xff" * 11, Limits(file_size=10))
    assert [finding.code for finding in outcome.findings] == ["L101"]
