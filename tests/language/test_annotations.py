"""Annotations: one line a finding, whatever stands in it, read back as a build's log is read."""

from pathlib import Path

import pytest
from dryfit.kernel.finding import Place
from dryfit.lang.annotations import annotation
from dryfit.lang.cli import main
from dryfit.lang.codes import Severity
from dryfit.lang.messages.words import Help, Label, Words
from dryfit.lang.render import Message, pages_of
from dryfit.lang.results import Result
from dryfit.lang.roots import Root

ROOT = Root("/shed")


def read(line: str) -> tuple[str, dict[str, str], str]:
    """The command as its reader takes it: at the first `::` after the values the message begins."""
    word, _, rest = line.removeprefix("::").partition(" ")
    values, _, said = rest.partition("::")
    pairs = dict(value.split("=", 1) for value in values.split(","))
    return word, {name: plain(value) for name, value in pairs.items()}, plain(said)


def plain(text: str) -> str:
    for sign, written in (
        ("\r", "%0D"), ("\n", "%0A"), (":", "%3A"), (",", "%2C"), ("%", "%25"),
    ):  # fmt: skip
        text = text.replace(written, sign)
    return text


def result(file: str, text: str, place: Place | None, words: Words, *tests: str) -> Result:
    message = Message(code="F101", severity=Severity.WARNING, place=place, words=words)
    return Result(file=file, message=message, pages=pages_of({file: text}), tests=tests)


def test_a_line_says_where_and_what() -> None:
    words = Words(title="too wide", label="here", others=(Label(Place("a.dry", 0, 1), "o"),))
    told = result("a.dry", "one\n𝑎𝑏 two\n", Place("a.dry", 7, 10), words)
    assert annotation(told, ROOT) == (
        "::warning file=a.dry,line=2,col=4,endLine=2,endColumn=7,title=F101::too wide%0Ahere"
    )


def test_whatever_stands_in_it_comes_back_from_one_line() -> None:
    words = Words(
        title="50% of `a::b`, at 3:4", notes=("%0A is no line end", "two\nlines"), help=(Help("x"),)
    )
    line = annotation(result("a,b:c%.dry", "", None, words, "fits: 1, 2 and 100%"), ROOT)
    assert "\n" not in line
    word, values, said = read(line)
    assert (word, values["file"]) == ("warning", "a,b:c%.dry")
    assert values["title"] == 'F101 in test "fits: 1, 2 and 100%"'
    assert said == "50% of `a::b`, at 3:4\n%0A is no line end\ntwo\nlines\nhelp: x"


def test_nothing_in_a_text_starts_a_command_of_its_own() -> None:
    words = Words(title="a\r\n::error::b\x1b[2K")
    line = annotation(result("a.dry", "", None, words), ROOT)
    assert "\r" not in line
    assert "\n" not in line
    assert "\x1b" not in line


def test_columns_are_given_on_one_line_only() -> None:
    told = result("/shed/a.dry", "one\ntwo\n", Place("/shed/a.dry", 1, 6), Words(title="t"))
    assert annotation(told, ROOT) == "::warning file=a.dry,line=1,endLine=2,title=F101::t"


def test_check_and_test_print_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    text = "stock ply12 { thick 12mm }\nboard a of ply12  x 0mm..9mm  y 0mm..9mm  z 0mm..12mm\n"
    test = 'test "long" { expect length(a) >= 10mm }\n'
    Path("a.dry").write_text(text + test, "utf-8")
    Path("b.dry").write_text(text.replace("of ply12", "of ply21"), "utf-8")
    assert main(["check", "a.dry", "b.dry", "--format", "annotations"]) == 1
    first, second = map(read, capsys.readouterr().out.splitlines())
    assert (first[1]["file"], first[1]["title"], first[1]["line"]) == ("a.dry", "T101", "3")
    assert (second[1]["file"], second[1]["col"], second[1]["endColumn"]) == ("b.dry", "12", "17")
    assert main(["test", "a.dry", "gone.dry", "--format", "annotations"]) == 2
    first, second = map(read, capsys.readouterr().out.splitlines())
    assert first[1]["title"] == 'T101 in test "long"'
    assert "gone.dry" in second[2]
    Path("c.dry").write_text(text, "utf-8")
    assert main(["check", "c.dry", "--format", "annotations"]) == 0
    assert capsys.readouterr().out == ""
