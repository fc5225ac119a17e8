"""`dryfit check --vary`: which variants of a design go together?"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from concurrent.futures import Executor
from contextlib import contextmanager
from importlib import import_module
from itertools import islice
from typing import Any, Final

from ...kernel.faults import Fault
from ..family import Family
from ..inspection import Request, designed
from ..messages import sweeps
from ..render import drawn, messages_of
from ..results import is_setting
from ..sweep import Check, InProcess, Noting, Swept, swept
from ..sweeptable import as_json, as_table
from ..terminal import Terminal
from ..version import VERSION
from .asked import request
from .vary import family_of

ASKED_FOR: Final = 10_000
"""More variants than this are not begun without asking."""

AHEAD: Final = 3
"""Variants handed out for each worker: one in work, others at hand when it is done."""

INTERRUPTED: Final = 130
"""The exit code of what was interrupted, as `cli.py` has it."""

OUT_OF_BOUNDS: Final = "U106"
"""What a value set from outside may be and another one not."""

CLUSTER_PATIENCE: Final = 10
"""Seconds that a cluster may take to answer."""


def run(arguments: argparse.Namespace, shown: Terminal) -> int:
    """0 when every variant passes, 1 when one does not, 130 when the sweep was interrupted."""
    file = _file(arguments)
    asked = request(arguments, file)
    family = family_of(arguments.vary, asked.settings)
    files = Noting()
    if not _makes_sense(asked, family, files, shown):
        return 1
    _ask(family, arguments.yes, shown)
    work = Check(file=file, files=files, settings=asked.settings, limits=asked.limits)
    with _executor(arguments, family) as (executor, ahead), shown.busy(file) as step:
        told = swept(
            family,
            work,
            executor,
            ahead,
            lambda done, passing: step(f"{file}: {sweeps.progress(done, family.size, passing)}"),
        )
    _print(told, file, arguments.format, shown)
    if told.interrupted:
        return INTERRUPTED
    return 0 if told.all_pass else 1


def _file(arguments: argparse.Namespace) -> str:
    """The one file; a Fault for arguments that do not go together."""
    if len(arguments.files) != 1:
        raise Fault("--vary takes one file")
    if arguments.fix:
        raise Fault("--fix mends one design, --vary makes many: use one at a time")
    if arguments.format not in ("text", "json"):
        raise Fault(f"--vary prints text or json, not {arguments.format}")
    return str(arguments.files[0])


def _makes_sense(asked: Request, family: Family, files: Noting, shown: Terminal) -> bool:
    """Whether the first variant can be read at all, told if not: a slip in the text or in a name
    fails every variant alike."""
    first = Request(
        file=asked.file,
        settings={**asked.settings, **family.settings(0)},
        limits=asked.limits,
    )
    inspection = designed(first, files)
    amiss = tuple(
        finding
        for finding in inspection.findings
        if finding.code.startswith("S")
        or (finding.place and is_setting(finding.place) and finding.code != OUT_OF_BOUNDS)
    )
    for message in messages_of(amiss):
        shown.say(drawn(message, inspection.pages, shown.out_has_colour) + "\n")
    return not amiss


def _ask(family: Family, agreed: bool, shown: Terminal) -> None:
    if family.size > ASKED_FOR and not agreed:
        many = sweeps.many(family.size)
        if not shown.agrees(f"{many}: check them all?"):
            raise Fault(f"{many} are many: say --yes to check them all")


@contextmanager
def _executor(arguments: argparse.Namespace, family: Family) -> Iterator[tuple[Executor, int]]:
    """Who checks, and how many variants to hand out at a time."""
    timeout = _seconds(arguments.timeout)
    if arguments.cluster is not None:
        if arguments.workers is not None or timeout is not None:
            raise Fault("--workers and --timeout are for this machine, not for a --cluster")
        with _cluster(arguments.cluster) as (executor, count):
            yield executor, count * AHEAD
        return
    from ..workers import Workers, cores

    count = min(_workers(arguments.workers) or cores(), family.size)
    if count == 1 and timeout is None:
        yield InProcess(), 1
        return
    workers = Workers(count, timeout)
    try:
        yield workers, count * AHEAD
    finally:
        workers.shutdown(cancel_futures=True)


@contextmanager
def _cluster(address: str) -> Iterator[tuple[Executor, int]]:
    """A Dask cluster that runs already, and how many variants it can check at a time."""
    try:
        distributed: Any = import_module("distributed")
    except ImportError as error:
        raise Fault("--cluster needs Dask: pip install 'dryfit[dask]'") from error
    try:
        client = distributed.Client(address, timeout=CLUSTER_PATIENCE, set_as_default=False)
    except (OSError, ValueError, TypeError) as error:
        raise Fault(f"no cluster answers at {address}: {error}") from error
    with client:
        threads = sum(client.nthreads().values())
        if not threads:
            raise Fault(f"the cluster at {address} has no workers")
        # Not `pure`: a variant that is tried again is to be checked again, not looked up.
        executor = client.get_executor(pure=False)
        yield executor, threads
        executor.shutdown(wait=False)


def _workers(written: str | None) -> int | None:
    if written is None:
        return None
    if not (written.isascii() and written.isdigit() and 1 <= int(written[:5]) <= 1000):
        raise Fault(f"--workers takes a count from 1 to 1000, not `{written}`")
    return int(written)


def _seconds(written: str | None) -> float | None:
    if written is None:
        return None
    try:
        seconds = float(written)
    except ValueError:
        seconds = 0.0
    if not 0 < seconds <= 1_000_000:
        raise Fault(f"--timeout takes seconds, more than 0, not `{written}`")
    return seconds


def _print(told: Swept, file: str, form: str, shown: Terminal) -> None:
    if form == "text":
        shown.say_exactly(as_table(told, file))
        return
    pieces = as_json(told, file, VERSION)
    while text := "".join(islice(pieces, 1000)):
        shown.say_exactly(text)
