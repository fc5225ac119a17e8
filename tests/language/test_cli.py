"""The command line from outside: what each command prints, where, and how it ends."""

import json
import os
import pty
import re
import subprocess
import sys
from pathlib import Path

import dryfit.lang
import jsonschema
import pytest
from dryfit.kernel.faults import InternalError
from dryfit.lang.cli import main
from dryfit.lang.version import VERSION

DRYFIT = str(Path(sys.executable).with_name("dryfit"))
SCHEMA = Path(next(iter(dryfit.lang.__path__))) / "findings.schema.json"

TRAY = """\
design "Seed tray"
param width = 200mm within 100mm..400mm
stock ply12 { sheet 2440mm by 1220mm, thick 12mm, species birch_ply }
bit b6 { straight 6mm, flute 22mm }
let t = ply12.thick
board side of ply12  x 0..t          y 0..80mm  z 0..60mm
board base of ply12  x t-4mm..width  y 0..80mm  z 10mm..10mm+t
join base into side with dado
test "goes together" {
  expect no interference
}
"""
BROKEN = TRAY.replace("board base of ply12", "board base of ply21")


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    (tmp_path / "tray.dry").write_text(TRAY)
    (tmp_path / "broken.dry").write_text(BROKEN)
    return tmp_path


def run(folder: Path, *arguments: str, **variables: str) -> subprocess.CompletedProcess[str]:
    plain = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "DRYFIT_TRACE")}
    return subprocess.run(
        [DRYFIT, *arguments],
        check=False,
        cwd=folder,
        env={**plain, **variables},
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=120,
    )


# -- check ---------------------------------------------------------------------------------------


def test_a_clean_file_is_said_to_be_clean_in_one_line(bench: Path) -> None:
    done = run(bench, "check", "tray.dry")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == (
        "tray.dry: goes together: 2 boards, 1 joint, 1 test; "
        "bit picked where none was named: b6 1 time\n"
    )


def test_a_finding_is_drawn_and_counted(bench: Path) -> None:
    done = run(bench, "check", "broken.dry")
    assert (done.returncode, done.stderr) == (1, "")
    assert re.match(r"error\[N\d{3}\]: .*`ply21`", done.stdout)
    assert " --> broken.dry:7:15\n" in done.stdout
    assert done.stdout.endswith("\n\nbroken.dry: 1 error\n")
    assert "\x1b" not in done.stdout


def test_findings_on_one_line_each(bench: Path) -> None:
    done = run(bench, "check", "broken.dry", "tray.dry", "--format", "line")
    assert done.returncode == 1
    assert re.fullmatch(r"broken\.dry:7:15: error\[N\d{3}\]: [^\n]+\n", done.stdout)


def test_findings_as_json(bench: Path) -> None:
    done = run(bench, "check", "tray.dry", "broken.dry", "--format", "json")
    assert done.returncode == 1
    document = json.loads(done.stdout)
    jsonschema.validate(document, json.loads(SCHEMA.read_text()))
    clean, broken = document["files"]
    assert clean["findings"] == []
    assert clean["checked"] == {
        "boards": 2,
        "joints": 1,
        "cuts": 0,
        "tests": 1,
        "motions": 0,
        "picked_bits": [{"bit": "b6", "times": 1}],
    }
    assert [f["place"]["start"]["line"] for f in broken["findings"]] == [7]
    assert (document["errors"], document["warnings"]) == (1, 0)


def test_what_cannot_be_read_does_not_keep_the_rest_from_being_checked(bench: Path) -> None:
    (bench / "folder.dry").mkdir()
    done = run(bench, "check", "gone.dry", "folder.dry", "broken.dry")
    assert done.returncode == 2
    assert done.stdout.endswith("broken.dry: 1 error\n")
    assert len(done.stderr.splitlines()) == 2
    assert "gone.dry" in done.stderr
    assert "folder.dry" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_file_with_findings_beyond_the_bound_is_cut_short(bench: Path) -> None:
    (bench / "many.dry").write_text('design "d"\n' + "let a = nothing\n" * 40)
    done = run(bench, "check", "many.dry", "--limit", "findings_shown=3")
    assert done.returncode == 1
    assert done.stdout.count(" --> ") == 3
    assert "more findings: mend these first" in done.stdout


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"\xff\xfed\0", "S001"),
        (b'design "caf\xe9"\n', "S001"),
        (b"let a = 1mm\0\n", "S002"),
        (b"(" * 100_000, "L102"),
        (b"[" * 10_000_000, "L101"),
    ],
)
def test_bytes_that_are_no_design_are_findings(bench: Path, data: bytes, code: str) -> None:
    (bench / "odd.dry").write_bytes(data)
    done = run(bench, "check", "odd.dry", "--format", "line")
    assert (done.returncode, done.stderr) == (1, "")
    assert re.fullmatch(rf"odd\.dry[0-9:]*: error\[{code}\]: [^\n]+\n", done.stdout)


def test_settings_reach_the_design(bench: Path) -> None:
    wide = run(bench, "show", "tray.dry", "--as", "design", "--set", "width=1ft")
    assert "x 8mm..304.8mm" in wide.stdout
    beyond = run(bench, "check", "tray.dry", "--set", "width=2m")
    assert beyond.returncode == 1
    unknown = run(bench, "check", "tray.dry", "--set", "widht=2m")
    assert unknown.returncode == 1
    assert "width" in unknown.stdout


@pytest.mark.parametrize(
    "arguments",
    [
        ["--set", "width"],
        ["--set", "=3"],
        ["--set", "width=1mm", "--set", "width=2mm"],
        ["--limit", "bords=3"],
        ["--limit", "boards=many"],
        ["--limit", "boards=0"],
        ["--format", "xml"],
        ["--fromat", "json"],
    ],
)
def test_arguments_that_make_no_sense(bench: Path, arguments: list[str]) -> None:
    done = run(bench, "check", "tray.dry", *arguments)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr
    assert "Traceback" not in done.stderr


def test_two_runs_print_the_same(bench: Path) -> None:
    first = run(bench, "check", "broken.dry", "--format", "json", PYTHONHASHSEED="1")
    again = run(bench, "check", "broken.dry", "--format", "json", PYTHONHASHSEED="2")
    assert first.stdout == again.stdout


# -- export, cutlist, show, explain --------------------------------------------------------------


def test_export_fills_a_folder_and_again_with_the_same_bytes(bench: Path) -> None:
    done = run(bench, "export", "tray.dry", "--to", "out", "--as", "stl,svg")
    assert (done.returncode, done.stderr) == (0, "")
    first = {p.name: p.read_bytes() for p in (bench / "out").iterdir()}
    assert {Path(name).suffix for name in first} >= {".stl", ".svg"}
    assert re.fullmatch(r"tray\.dry: \d+ files in out\n", done.stdout)
    assert run(bench, "export", "tray.dry", "--to", "out", "--as", "svg,stl").returncode == 0
    assert {p.name: p.read_bytes() for p in (bench / "out").iterdir()} == first


def test_export_writes_nothing_against_an_error(bench: Path) -> None:
    done = run(bench, "export", "broken.dry", "--to", "out", "--as", "stl")
    assert (done.returncode, done.stdout) == (1, "")
    assert "error[N" in done.stderr
    assert "nothing was written" in done.stderr
    assert not (bench / "out").exists()


def test_export_leaves_files_of_others_alone(bench: Path) -> None:
    asked = ("export", "tray.dry", "--to", "out", "--as", "svg")
    run(bench, *asked)
    victim = next((bench / "out").glob("*.svg"))
    victim.write_text("drawn by hand")
    refused = run(bench, *asked)
    assert refused.returncode == 2
    assert "--force" in refused.stderr
    assert victim.read_text() == "drawn by hand"
    assert run(bench, *asked, "--force").returncode == 0
    assert victim.read_text() != "drawn by hand"


@pytest.mark.parametrize(
    "arguments",
    [
        ["--to", "out", "--as", "obj"],
        ["--to", "out", "--as", ""],
        ["--to", "out", "--as", "stl", "--chord", "0"],
        ["--to", "out", "--as", "stl", "--chord", "nan"],
        ["--to", "out", "--as", "stl", "--chord", "fine"],
        ["--to", "tray.dry", "--as", "svg"],
        ["--as", "svg"],
    ],
)
def test_export_asked_for_what_cannot_be(bench: Path, arguments: list[str]) -> None:
    done = run(bench, "export", "tray.dry", *arguments)
    assert (done.returncode, done.stdout) == (2, "")
    assert "Traceback" not in done.stderr
    assert (bench / "tray.dry").read_text() == TRAY


def test_cutlist_forms(bench: Path) -> None:
    table = run(bench, "cutlist", "tray.dry")
    assert table.returncode == 0
    assert "ply12" in table.stdout
    assert run(bench, "cutlist", "tray.dry", "--format", "csv").stdout.count("\n") >= 3
    assert json.loads(run(bench, "cutlist", "tray.dry", "--format", "json").stdout)
    assert run(bench, "cutlist", "broken.dry").returncode == 1


def test_show_design_and_picture(bench: Path) -> None:
    design = run(bench, "show", "tray.dry", "--as", "design")
    assert design.returncode == 0
    assert design.stdout.startswith('design "Seed tray"\n\nstocks\n  ply12 ')
    picture = run(bench, "show", "tray.dry", "--as", "picture")
    assert picture.returncode == 0
    assert picture.stdout.startswith("<svg ")
    assert run(bench, "show", "tray.dry", "--as", "picture", "--to", "a.svg").stdout == ""
    assert (bench / "a.svg").read_text(encoding="utf-8") == picture.stdout
    again = run(bench, "show", "tray.dry", "--as", "picture", "--to", "a.svg", "--set", "width=1ft")
    assert again.returncode == 0
    assert (bench / "a.svg").read_text(encoding="utf-8") != picture.stdout
    assert [p.name for p in bench.iterdir() if p.name.startswith(".")] == []


def test_show_what_moves_and_how_much_room_it_has(bench: Path) -> None:
    still = run(bench, "show", "tray.dry", "--as", "motions")
    assert (still.returncode, still.stdout.count("\n")) == (0, 1)
    assert "travel" in still.stdout
    lines = [
        "stock ply12 { thick 12mm }",
        "board lid of ply12 x 0mm..100mm y 0mm..100mm z 0mm..12mm",
        "board post of ply12 x 102.5mm..150mm y 200mm..212mm z 0mm..100mm",
        "board wall of ply12 x 0mm..90mm y 300mm..312mm z 0mm..100mm",
        "travel lid along y for 150mm",
        "travel lid along y for 250mm",
        "swing lid about z by 20deg",
    ]
    (bench / "moving.dry").write_text("\n".join(lines), encoding="utf-8")
    assert run(bench, "show", "moving.dry", "--as", "motions").stdout == (
        "`lid` travels 150mm: free, 2.5mm between `lid` and `post`\n"
        "`lid` travels 250mm: stops after 200mm, `lid` meets `wall`\n"
        "`lid` swings 20deg: free, with nothing near\n"
    )


def test_show_never_writes_over_a_file_of_others(bench: Path) -> None:
    for to in ("tray.dry", "nowhere/a.txt", "."):
        done = run(bench, "show", "tray.dry", "--as", "design", "--to", to)
        assert (done.returncode, done.stdout) == (2, "")
    assert (bench / "tray.dry").read_text() == TRAY


def test_explain(bench: Path) -> None:
    code = re.match(r"error\[(\w+)\]", run(bench, "check", "broken.dry").stdout)
    assert code
    page = run(bench, "explain", code[1].lower())
    assert page.returncode == 0
    assert page.stdout.startswith(f"# {code[1]}: ")
    listed = run(bench, "explain", "--list")
    assert f"\n{code[1]}  error" in listed.stdout
    dado = run(bench, "explain", "dado")
    assert "join A into B with dado" in dado.stdout
    assert "default" in dado.stdout
    rabbet = run(bench, "explain", "rabbet")
    assert "join A into B with rabbet" in rabbet.stdout
    assert "cut A from x.hi with rabbet" in rabbet.stdout
    unknown = run(bench, "explain", "daod")
    assert unknown.returncode == 2
    assert "`dado`" in unknown.stderr


def test_version_and_usage(bench: Path) -> None:
    assert run(bench, "--version").stdout == f"dryfit {VERSION}\n"
    assert run(bench).returncode == 2
    helped = run(bench, "--help")
    assert helped.returncode == 0
    for command in ("check", "export", "cutlist", "explain", "show"):
        assert command in helped.stdout


# -- the world fails -----------------------------------------------------------------------------


@pytest.mark.parametrize("command", [["check", "broken.dry"], ["show", "tray.dry", "--as=design"]])
def test_a_reader_that_goes_away_is_no_news(bench: Path, command: list[str]) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [DRYFIT, *command],
        check=False,
        cwd=bench,
        stdout=writing,
        stderr=subprocess.PIPE,
        text=True,
    )
    os.close(writing)
    assert (done.returncode, done.stderr) == (2, "")


def test_a_full_disk_is_said_in_a_sentence(bench: Path) -> None:
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [DRYFIT, "check", "tray.dry"],
            check=False,
            cwd=bench,
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
        )
    assert done.returncode == 2
    assert re.fullmatch(r"dryfit: [^\n]+\n", done.stderr)


def test_streams_may_be_closed(bench: Path) -> None:
    closing = f"exec {DRYFIT} check broken.dry >&- 2>&-"
    done = subprocess.run(["/bin/sh", "-c", closing], cwd=bench, check=False)
    assert done.returncode == 1


def test_a_terminal_that_knows_few_characters_gets_escapes(bench: Path) -> None:
    (bench / "odd.dry").write_text('design "d"\nlet a = 12mm + ß\n', encoding="utf-8")
    done = run(bench, "check", "odd.dry", PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert done.returncode == 1
    assert done.stdout.isascii()


# -- our own faults ------------------------------------------------------------------------------


@pytest.mark.parametrize("error", [InternalError("a promise"), KeyError("x"), RecursionError()])
def test_a_fault_of_ours_is_owned_up_to(
    error: Exception, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fails(*_: object) -> None:
        raise error

    monkeypatch.setattr("dryfit.lang.commands.check.inspected", fails)
    monkeypatch.delenv("DRYFIT_TRACE", raising=False)
    assert main(["check", "tray.dry"]) == 3
    said = capsys.readouterr().err
    assert "fault of dryfit, not of your design" in said
    assert "Traceback" not in said
    monkeypatch.setenv("DRYFIT_TRACE", "1")
    assert main(["check", "tray.dry"]) == 3
    assert "Traceback" in capsys.readouterr().err


@pytest.mark.parametrize(("error", "code"), [(KeyboardInterrupt(), 130), (MemoryError(), 2)])
def test_other_ends(error: BaseException, code: int, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object) -> None:
        raise error

    monkeypatch.setattr("dryfit.lang.commands.check.inspected", fails)
    assert main(["check", "tray.dry"]) == code


# -- a terminal ----------------------------------------------------------------------------------


def on_a_terminal(folder: Path, *arguments: str, **variables: str) -> tuple[str, str]:
    """What a terminal shows of the standard output and of the standard error."""
    streams = [pty.openpty(), pty.openpty()]
    plain = {k: v for k, v in os.environ.items() if k != "NO_COLOR"}
    running = subprocess.Popen(
        [DRYFIT, *arguments],
        cwd=folder,
        env={**plain, "TERM": "xterm", **variables},
        stdout=streams[0][1],
        stderr=streams[1][1],
    )
    shown = []
    running.wait(timeout=120)
    for ours, theirs in streams:
        os.set_blocking(ours, False)
        shown.append(drained(ours))
        os.close(ours)
        os.close(theirs)
    return shown[0], shown[1]


def drained(stream: int) -> str:
    data = b""
    try:
        while piece := os.read(stream, 65536):
            data += piece
    except BlockingIOError:
        return data.decode()
    return data.decode()


def test_a_terminal_gets_colour_and_signs_of_life_unless_it_asks_for_none(bench: Path) -> None:
    out, err = on_a_terminal(bench, "check", "broken.dry")
    assert out.startswith("\x1b[1;31merror[")
    assert "broken.dry: reading" in err
    assert err.endswith("\r\x1b[2K")
    plain, _ = on_a_terminal(bench, "check", "broken.dry", NO_COLOR="1")
    assert "\x1b" not in plain
    dumb, quiet = on_a_terminal(bench, "check", "broken.dry", TERM="dumb")
    assert "\x1b" not in dumb
    assert quiet == ""
