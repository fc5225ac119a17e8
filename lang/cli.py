"""What does the command `dryfit` do with its arguments, and with which exit code does it end?

0: clean. 1: findings. 2: the outside world failed (a file that cannot be read, a full disk, a
reader that went away) or the arguments make no sense. 3: our own fault. 130: interrupted.

Nothing heavy is imported up here: `dryfit --version` must be there at once.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeAlias

from ..kernel.faults import Fault, InternalError
from .terminal import Terminal, terminal
from .version import VERSION

if TYPE_CHECKING:
    Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"

CLEAN, FINDINGS, FAULT, OURS, INTERRUPTED = 0, 1, 2, 3, 130

SHOWN_AS = ("design", "picture", "motions", "scene")

TRACE = "DRYFIT_TRACE"
"""Set to 1, this variable shows the traceback of a fault of ours."""


def main(argv: Sequence[str] | None = None) -> int:
    """Runs one command; the exit code."""
    shown = terminal()
    try:
        code = _run(parser().parse_args(argv), shown)
        shown.out.flush()
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        _let_go(shown)
        return FAULT
    except Fault as fault:
        shown.complain(f"dryfit: {fault}")
        return FAULT
    except OSError as error:
        _let_go(shown)
        shown.complain(f"dryfit: {_reason(error)}")
        return FAULT
    except MemoryError:
        shown.complain("dryfit: there is not enough memory for this design")
        return FAULT
    except Exception as error:
        shown.complain(_apology(error))
        return OURS
    return code


def parser() -> argparse.ArgumentParser:
    """The arguments of every command."""
    top = argparse.ArgumentParser(
        prog="dryfit",
        description="Checks furniture written as text and makes what is needed to cut it.",
        epilog="exit codes: 0 clean, 1 findings, 2 the outside world failed, 3 our fault",
        allow_abbrev=False,
    )
    top.add_argument("--version", action="version", version=f"dryfit {VERSION}")
    commands = top.add_subparsers(dest="command", metavar="COMMAND", required=True)

    check = commands.add_parser("check", help="tell whether the parts, as cut, go together")
    check.add_argument("files", nargs="+", metavar="FILE", help="a design, `.dry`")
    check.add_argument(
        "--format", choices=("text", "line", "json", "sarif", "annotations"), default="text",
        help="how to print findings",
    )  # fmt: skip
    check.add_argument(
        "--fix", action="store_true", help="make the edits that messages offer, then check again"
    )
    _add_sweep(check)
    _add_settings(check)

    test = commands.add_parser("test", help="tell whether the tests that stand in designs hold")
    test.add_argument("files", nargs="+", metavar="FILE", help="a design, `.dry`")
    test.add_argument(
        "-k", dest="only", default="", metavar="NAME", help="only tests whose title holds NAME"
    )
    test.add_argument(
        "--format", choices=("text", "json", "junit", "sarif", "annotations"), default="text",
        help="how to print verdicts",
    )  # fmt: skip
    _add_settings(test)

    export = commands.add_parser("export", help="write meshes and cutting profiles")
    export.add_argument("file", metavar="FILE", help="a design, `.dry`")
    export.add_argument("--to", required=True, metavar="DIR", help="the folder to fill")
    export.add_argument(
        "--as", dest="formats", required=True, metavar="FORMATS", help="of stl,glb,3mf,svg,dxf"
    )
    export.add_argument(
        "--chord", metavar="MM", help="greatest distance of a mesh from a true arc (0.005)"
    )
    export.add_argument("--force", action="store_true", help="replace files dryfit did not make")
    _add_settings(export)

    cutlist = commands.add_parser("cutlist", help="list the parts to cut from the stock")
    cutlist.add_argument("file", metavar="FILE", help="a design, `.dry`")
    cutlist.add_argument("--format", choices=("table", "csv", "json"), default="table")
    _add_settings(cutlist)

    steps = commands.add_parser("steps", help="tell in which steps the parts go together")
    steps.add_argument("file", metavar="FILE", help="a design, `.dry`")
    steps.add_argument("--format", choices=("text", "json"), default="text")
    _add_settings(steps)

    _add_fits(commands)

    explain = commands.add_parser(
        "explain", help="explain a code, or a joint or cut with its limits and defaults"
    )
    _add_topic(explain)

    joints = commands.add_parser("joints", help="list the joints, or draw them all into a folder")
    joints.add_argument("--to", metavar="DIR", help="the folder to fill with a page and drawings")
    joints.add_argument("--force", action="store_true", help="replace files dryfit did not make")

    show = commands.add_parser(
        "show", help="print the resolved design, what moves or what a page needs, or draw the piece"
    )
    show.add_argument("file", metavar="FILE", help="a design, `.dry`")
    show.add_argument("--as", dest="form", choices=SHOWN_AS, required=True)
    show.add_argument("--to", metavar="FILE", help="write here and not to the standard output")
    show.add_argument("--force", action="store_true", help="replace a file dryfit did not make")
    _add_settings(show)

    view = commands.add_parser("view", help="show the piece in a browser, or save it as a page")
    view.add_argument("file", metavar="FILE", help="a design, `.dry`")
    view.add_argument("--save", metavar="PAGE", help="write one file that needs no network instead")
    view.add_argument("--force", action="store_true", help="replace a file dryfit did not make")
    view.add_argument("--port", metavar="N", help="listen here; else on any port that is free")
    view.add_argument(
        "--no-open", action="store_true", help="print the address and open no browser"
    )
    _add_settings(view)
    return top


def _add_fits(commands: Commands) -> None:
    fits = commands.add_parser("fits", help="measure how the parts of every joint fit")
    fits.add_argument("file", metavar="FILE", help="a design, `.dry`")
    fits.add_argument("--format", choices=("text", "json", "csv"), default="text")
    fits.add_argument(
        "--within", metavar="LO..HI", help="the play wanted where no test says, 0mm..0.8mm"
    )
    fits.add_argument(
        "--bit-error", metavar="SIZE", default="0mm", help="how far a bit's diameter may be off"
    )
    fits.add_argument(
        "--place-error", metavar="SIZE", default="0mm",
        help="how far off a board may lie on the machine",
    )  # fmt: skip
    fits.add_argument("--samples", metavar="N", default="2000", help="pieces made up for the share")
    fits.add_argument("--seed", metavar="N", default="1", help="what the made-up pieces start from")
    fits.add_argument(
        "--row", metavar="NAMES", help="add up a row between two stops, such as rail,drawer[1],top"
    )
    fits.add_argument("--along", choices=("x", "y", "z"), help="which way the row runs")
    _add_settings(fits)


def _add_topic(command: argparse.ArgumentParser) -> None:
    command.add_argument("topic", nargs="?", metavar="NAME", help="such as J203, or dado")
    command.add_argument("--list", action="store_true", help="list every joint, cut and code")
    command.add_argument(
        "--format", choices=("text", "markdown"), default="text", help="how to print a joint or cut"
    )


def _add_settings(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--set", dest="settings", action="append", default=[], metavar="NAME=VALUE",
        help="give a `param` another value, such as width=420mm",
    )  # fmt: skip
    command.add_argument(
        "--limit", dest="limits", action="append", default=[], metavar="NAME=VALUE",
        help="move a bound, such as boards=10000",
    )  # fmt: skip


def _add_sweep(check: argparse.ArgumentParser) -> None:
    check.add_argument(
        "--vary", dest="vary", action="append", default=[], metavar="NAME=VALUES",
        help="check every value, such as width=300mm..600mm/50mm, rows=1..8 or kind=1,3",
    )  # fmt: skip
    check.add_argument(
        "--workers", metavar="N", help="variants checked at a time, one a core if not said"
    )
    check.add_argument("--timeout", metavar="SECONDS", help="give a variant up after so long")
    check.add_argument(
        "--cluster", metavar="ADDRESS", help="check the variants on a Dask cluster (dryfit[dask])"
    )
    check.add_argument("--yes", action="store_true", help="do not ask, however many variants")


def _run(arguments: argparse.Namespace, shown: Terminal) -> int:
    match arguments.command:
        case "check":
            from .commands import check

            return check.run(arguments, shown)
        case "test":
            from .commands import test

            return test.run(arguments, shown)
        case "export":
            from .commands import export

            return export.run(arguments, shown)
        case "cutlist":
            from .commands import cutlist

            return cutlist.run(arguments, shown)
        case "steps":
            from .commands import steps

            return steps.run(arguments, shown)
        case "fits":
            from .commands import fits

            return fits.run(arguments, shown)
        case "explain":
            from .commands import explain

            return explain.run(arguments, shown)
        case "joints":
            from .commands import joints

            return joints.run(arguments, shown)
        case "show":
            from .commands import show

            return show.run(arguments, shown)
        case "view":
            from .commands import view

            return view.run(arguments, shown)
    raise InternalError(f"nothing runs the command {arguments.command!r}")


def _reason(error: OSError) -> str:
    what = error.strerror or type(error).__name__
    return f"`{error.filename}`: {what}" if error.filename else what


def _let_go(shown: Terminal) -> None:
    """Gives up what still waits to be printed, so that closing the streams does not fail again."""
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), shown.out.fileno())
    except (OSError, ValueError):
        sys.stdout = None


def _apology(error: Exception) -> str:
    """One paragraph, or the traceback where it was asked for."""
    if os.environ.get(TRACE) == "1":
        import traceback

        return "".join(traceback.format_exception(error)).rstrip()
    what = " ".join(f"{type(error).__name__}: {error}".split())
    return (
        f"dryfit {VERSION}: this is a fault of dryfit, not of your design ({what[:300]}). Please "
        "report it with the design and the command you ran. With DRYFIT_TRACE=1 in the "
        "environment the same command prints where it happened; that helps too."
    )
