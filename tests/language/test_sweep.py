"""Sweeps: the same whoever checks and in whatever order, and nothing lost but what went wrong."""

import json
import os
import pty
import re
import select
import signal
import subprocess
import sys
import tracemalloc
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from contextlib import contextmanager
from io import StringIO
from itertools import islice
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import dryfit.lang
import jsonschema
import pytest
from dryfit.kernel.faults import Fault
from dryfit.lang.cli import main
from dryfit.lang.family import Family, Listed
from dryfit.lang.files import MemoryFiles, Read
from dryfit.lang.sweep import Check, InProcess, Kind, Outcome, Swept, swept
from dryfit.lang.sweeptable import as_json, as_table
from dryfit.lang.terminal import Terminal
from dryfit.lang.workers import Workers
from variants import PASSES, deadly, easy, endless, process

DRYFIT = str(Path(sys.executable).with_name("dryfit"))
SCHEMA = json.loads((Path(next(iter(dryfit.lang.__path__))) / "findings.schema.json").read_text())
SHELF = """design "Shelf"
param long = 400mm within 100mm..600mm
param rows = 2
stock ply12 { sheet 2440mm by 1220mm, thick 12mm }
for i in 1..rows {
  board shelf[i] of ply12  x 0mm..long  y 0mm..300mm  z 30mm*i..30mm*i+12mm
}
board wall of ply12  x 500mm..512mm  y 0mm..300mm  z 0mm..300mm
test "short" { expect length(shelf[1]) <= 450mm }
"""
VARIED = ("--vary", "long=300mm..700mm/50mm", "--vary", "rows=1..3")
TABLE = """\
  long          rows
  300mm..450mm  1..3  passes
  500mm         1..3  T101
  550mm..600mm  1     F102, T101
                2     F102 x2, T101
                3     F102 x3, T101
  650mm..700mm  1..3  U106

T101: 3 variants, first with long=500mm, rows=1
    length(shelf[1]) measures 500mm, wanted <= 450mm

F102, T101: 2 variants, first with long=550mm, rows=1
    `shelf[1]` and `wall` fill the same space

F102 x2, T101: 2 variants, first with long=550mm, rows=2
    `shelf[1]` and `wall` fill the same space

F102 x3, T101: 2 variants, first with long=550mm, rows=3
    `shelf[1]` and `wall` fill the same space

U106: 6 variants, first with long=650mm, rows=1
    `long` is 650mm, but must be at most 600mm

for the whole message: dryfit check shelf.dry --set long=500mm --set rows=1

shelf.dry: 12 of 27 variants pass
"""


def numbered(size: int) -> Family:
    return Family((Listed("n", tuple(map(str, range(size)))),))


def kinds(told: Swept) -> list[Kind | None]:
    found = [None, *(tally.outcome.kind for tally in told.tallies)]
    return [found[mark] for mark in told.marks]


@pytest.fixture
def shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    (tmp_path / "shelf.dry").write_text(SHELF, "utf-8")
    monkeypatch.chdir(tmp_path)
    return "shelf.dry"


@contextmanager
def workers(count: int, timeout: float | None = None) -> Iterator[Workers]:
    pool = Workers(count, timeout)
    try:
        yield pool
    finally:
        pool.shutdown(cancel_futures=True)


# -- what is told --------------------------------------------------------------------------------


def test_a_table_says_what_passes_and_why_the_rest_does_not(
    shelf: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", shelf, *VARIED, "--workers", "1"]) == 1
    assert capsys.readouterr() == (TABLE, "")


def test_the_number_of_workers_changes_nothing(
    shelf: str, capsys: pytest.CaptureFixture[str]
) -> None:
    for form in ("text", "json"):
        told = []
        for count in ("1", "2", "3"):
            assert main(["check", shelf, *VARIED, "--workers", count, "--format", form]) == 1
            told.append(capsys.readouterr().out)
        assert told[0] == told[1] == told[2]
    document = json.loads(told[0])
    jsonschema.validate(document, SCHEMA)
    assert document["varied"] == [{"name": "long", "values": 9}, {"name": "rows", "values": 3}]
    assert len(document["variants"]) == 27
    assert document["variants"][1]["settings"] == {"long": "300mm", "rows": "2"}
    assert sum(each["count"] for each in document["outcomes"]) == 27
    assert document["outcomes"][-1]["codes"] == [{"code": "U106", "times": 1}]
    assert document["outcomes"][-1]["first"] == {"long": "650mm", "rows": "1"}


def test_each_variant_comes_out_as_check_with_its_settings(
    shelf: str, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["check", shelf, *VARIED, "--workers", "1", "--format", "json"])
    swept_ = json.loads(capsys.readouterr().out)
    for variant in swept_["variants"][::4]:
        sets = [f"--set={name}={value}" for name, value in variant["settings"].items()]
        main(["check", shelf, *sets, "--format", "json"])
        [alone] = json.loads(capsys.readouterr().out)["files"]
        codes = dict.fromkeys(found["code"] for found in alone["findings"])
        outcome = swept_["outcomes"][variant["outcome"]]
        assert [each["code"] for each in outcome["codes"]] == list(codes)


class Backwards(Executor):
    """Finishes what it was given in batches, the last of each first."""

    def __init__(self, batch: int) -> None:
        self.batch = batch
        self.held: list[tuple[Future[Any], Callable[[], Any]]] = []

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        future: Future[Any] = Future()
        self.held.append((future, lambda: fn(*args, **kwargs)))
        if len(self.held) == self.batch:
            while self.held:
                future_, work = self.held.pop()
                future_.set_result(work())
        return future


def test_the_order_in_which_variants_are_done_changes_nothing() -> None:
    family = numbered(60)
    expected = swept(family, easy, InProcess())
    assert [t.first for t in expected.tallies] == [0, 1]
    assert expected.tallies[0].outcome.said == "of 0"
    assert swept(family, easy, Backwards(12), 12) == expected
    with ThreadPoolExecutor(3) as threads:
        assert swept(family, easy, threads, 9) == expected


def test_workers_are_other_processes_and_stay() -> None:
    with workers(2) as pool:
        told = swept(numbered(20), process, pool, 6)
    seen = {tally.outcome.error for tally in told.tallies}
    assert 1 <= len(seen) <= 2
    assert str(os.getpid()) not in seen


# -- what goes wrong -----------------------------------------------------------------------------


def test_a_worker_that_dies_loses_its_variant_and_no_other() -> None:
    with workers(2) as pool:
        told = swept(numbered(12), deadly, pool, 6)
    assert not told.interrupted
    wrong = {3: Kind.DIED, 5: Kind.DIED, 7: Kind.MEMORY, 9: Kind.FAULT}
    assert kinds(told) == [wrong.get(n, Kind.PASSES) for n in range(12)]
    assert [t.outcome.said for t in told.tallies if t.outcome.kind is Kind.FAULT] == [
        "KeyError: 'nine'"
    ]
    for n, said in ((3, "it was ended by SIGKILL"), (5, "it ended with exit code 7")):
        with workers(1) as pool:
            alone = swept(Family((Listed("n", (str(n),)),)), deadly, pool)
        assert alone.tallies[0].outcome.said == said


def test_a_variant_that_takes_too_long_is_given_up() -> None:
    with workers(2, timeout=3.0) as pool:
        told = swept(numbered(8), endless, pool, 6)
    assert kinds(told) == [Kind.TIMEOUT if n == 4 else Kind.PASSES for n in range(8)]


def test_a_pool_that_breaks_keeps_what_was_done() -> None:
    """The standard library's own pool: all it holds is lost with one process."""
    with ProcessPoolExecutor(1, mp_context=get_context("forkserver")) as pool:
        told = swept(numbered(12), deadly, pool, 2)
    assert told.interrupted
    assert kinds(told)[:4] == [Kind.PASSES] * 3 + [Kind.DIED]
    assert kinds(told)[-1] is None


class Greedy(MemoryFiles):
    def main(self, name: str, most: int) -> Read:
        if name == "gone.dry":
            raise Fault("cannot read gone.dry: no such file")
        raise {"big.dry": MemoryError, "odd.dry": RuntimeError("odd")}[name]  # type: ignore[misc]


def test_what_fails_outside_a_design_is_told_apart() -> None:
    def outcome(file: str) -> Outcome:
        return Check(file=file, files=Greedy({}))({"n": "1"})

    assert outcome("big.dry") == Outcome(kind=Kind.MEMORY)
    assert outcome("gone.dry").kind is Kind.UNREADABLE
    assert outcome("odd.dry") == Outcome(
        kind=Kind.FAULT, error="RuntimeError", said="RuntimeError: odd"
    )


# -- interrupted ---------------------------------------------------------------------------------


def test_interrupted_it_keeps_what_is_done() -> None:
    def work(settings: Mapping[str, str]) -> Outcome:
        if settings["n"] == "5":
            raise KeyboardInterrupt
        return easy(settings)

    told = swept(numbered(9), work, InProcess())
    assert told.interrupted
    assert kinds(told)[:5] == kinds(swept(numbered(5), easy, InProcess()))
    assert kinds(told)[5:] == [None] * 4
    assert told.tried == 5
    table = as_table(told, "a.dry")
    assert table.endswith("a.dry: 3 of 9 variants pass; 4 not tried: the sweep was cut short\n")
    assert json.loads("".join(as_json(told, "a.dry", "1")))["variants"][5]["outcome"] is None


@pytest.mark.parametrize("count", ["1", "2"])
def test_ctrl_c_prints_what_is_done(shelf: str, count: str) -> None:
    """The whole command on a terminal; as there, the interrupt reaches the workers too."""
    watched, stream = pty.openpty()
    arguments = ["check", shelf, "--vary", "long=300mm..400mm/0.01mm", "--workers", count]
    command = subprocess.Popen(
        [DRYFIT, *arguments, "--yes"],
        stdout=subprocess.PIPE,
        stderr=stream,
        start_new_session=True,
        env={**os.environ, "TERM": "xterm"},
    )
    os.close(stream)
    seen = b""
    while not re.search(rb"\] [1-9][0-9]+ of 10001", seen):
        assert select.select([watched], [], [], 60)[0], seen
        seen += os.read(watched, 4096)
    os.killpg(command.pid, signal.SIGINT)
    reader = os.fdopen(watched, "rb", buffering=0)
    out = b""
    with reader:
        while select.select([command.stdout], [], [], 60)[0]:
            got = command.stdout.read1(65536) if command.stdout else b""  # type: ignore[union-attr]
            if not got:
                break
            out += got
        assert command.wait(60) == 130
    said = out.decode()
    told = re.search(r"shelf\.dry: (\d+) of 10001 variants pass; (\d+) not tried", said)
    assert told
    assert int(told[1]) >= 10
    assert int(told[1]) + int(told[2]) == 10001


# -- many ----------------------------------------------------------------------------------------


def test_a_million_variants_are_neither_written_out_nor_handed_out_at_once() -> None:
    values = tuple(map(str, range(1000)))
    family = Family((Listed("m", values), Listed("n", values)))
    assert family.size == 1_000_000
    assert family.settings(999_999) == {"m": "999", "n": "999"}
    outstanding = []

    class Watched(InProcess):
        def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
            outstanding.append(len(waiting_room))
            waiting_room.append(None)
            return super().submit(fn, *args, **kwargs)

    waiting_room: list[None] = []

    def work(settings: Mapping[str, str]) -> Outcome:
        if settings == {"m": "3", "n": "0"}:
            raise KeyboardInterrupt
        return PASSES

    tracemalloc.start()
    told = swept(family, work, Watched(), 8, lambda *_: waiting_room.clear())
    table = as_table(told, "a.dry")
    pieces = list(islice(as_json(told, "a.dry", "1"), 100))
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert told.tried == 3000
    assert max(outstanding) < 8
    assert peak < 16_000_000  # two numbers of four bytes a variant, and little else
    assert "\n  0, 1, 2   0 to 999  passes\n" in table
    assert len(pieces) == 100


def test_many_variants_are_not_begun_without_asking(
    shelf: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", shelf, "--vary", "long=100mm..600mm/0.0005mm"]) == 2
    assert "1000001 variants are many: say --yes" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("typed", "live", "agrees"),
    [("y\n", True, True), (" Yes \n", True, True), ("\n", True, False), ("", True, False),
     ("y\n", False, False)],
)  # fmt: skip
def test_only_an_answer_is_a_yes(
    typed: str, live: bool, agrees: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Keys(StringIO):
        def isatty(self) -> bool:
            return True

    monkeypatch.setattr(sys, "stdin", Keys(typed))
    said = StringIO()
    shown = Terminal(
        out=StringIO(), err=said, out_has_colour=False, err_has_colour=False, err_is_live=live
    )
    assert shown.agrees("go on?") is agrees
    assert said.getvalue() == ("go on? [y/N] " if live else "")


# -- what makes no sense -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("arguments", "code", "said"),
    [
        (["--vary", "longg=1mm..3mm/1mm"], 1, "no param `longg`"),
        (["--vary", "long=300,400"], 1, "a length is wanted here, not a count"),
        (["--vary", "rows=1..2", "--set", "long=+"], 1, "error[S"),
        (["--vary", "rows=2..1"], 2, "runs backwards"),
        (["--vary", "rows=1..2", "--workers", "0"], 2, "--workers takes a count"),
        (["--vary", "rows=1..2", "--timeout", "soon"], 2, "--timeout takes seconds"),
        (["--vary", "rows=1..2", "--fix"], 2, "--fix mends one design"),
        (["--vary", "rows=1..2", "--format", "sarif"], 2, "text or json"),
        (["--workers", "2"], 2, "--workers goes with --vary"),
        (["--vary", "rows=1..2", "--cluster", "tcp://[", "--workers", "2"], 2, "this machine"),
        (["--vary", "rows=1..2", "--cluster", "nothing://here"], 2, "no cluster answers at"),
    ],
)
def test_what_makes_no_sense_is_said(
    arguments: list[str], code: int, said: str, shelf: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", shelf, *arguments]) == code
    told = capsys.readouterr()
    assert said in told.out + told.err


def test_a_sweep_is_of_one_file(shelf: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", shelf, shelf, "--vary", "rows=1..2"]) == 2
    assert "--vary takes one file" in capsys.readouterr().err


def test_a_file_that_cannot_be_read_is_a_fault(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "gone.dry", "--vary", "rows=1..2"]) == 2
    assert "cannot read gone.dry" in capsys.readouterr().err


# -- a cluster -----------------------------------------------------------------------------------


def test_a_cluster_checks_them_alike(shelf: str, capsys: pytest.CaptureFixture[str]) -> None:
    import distributed

    main(["check", shelf, *VARIED, "--workers", "1"])
    alone = capsys.readouterr().out
    with distributed.LocalCluster(
        n_workers=2,
        threads_per_worker=1,
        processes=False,
        protocol="tcp",
        host="127.0.0.1",
        dashboard_address=None,
    ) as cluster:
        assert main(["check", shelf, *VARIED, "--cluster", cluster.scheduler_address]) == 1
    assert capsys.readouterr().out == alone


def test_a_cluster_loses_only_the_variant_that_ends_its_worker() -> None:
    """The scheduler blames all that the worker had at hand."""
    import dask
    import distributed

    with (
        dask.config.set({"distributed.scheduler.allowed-failures": 0}),
        distributed.LocalCluster(
            n_workers=1, threads_per_worker=1, host="127.0.0.1", dashboard_address=None
        ) as cluster,
        distributed.Client(cluster, set_as_default=False) as client,
    ):
        executor = client.get_executor(pure=False)
        family = Family((Listed("n", ("1", "2", "3", "4")),))
        told = swept(family, deadly, executor, 4)
    assert not told.interrupted
    assert kinds(told) == [Kind.PASSES, Kind.PASSES, Kind.DIED, Kind.PASSES]


def test_interrupted_on_a_cluster_it_keeps_what_is_done(
    shelf: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    import distributed

    def interrupt(*_: object) -> str:
        raise KeyboardInterrupt

    monkeypatch.setattr("dryfit.lang.commands.sweep.sweeps.progress", interrupt)
    with distributed.LocalCluster(
        n_workers=1, processes=False, protocol="tcp", host="127.0.0.1", dashboard_address=None
    ) as cluster:
        assert main(["check", shelf, *VARIED, "--cluster", cluster.scheduler_address]) == 130
    assert re.search(r"\d+ of 27 variants pass; \d+ not tried", capsys.readouterr().out)
