"""Work for sweeps that can be handed to other processes."""

import os
import signal
from collections.abc import Mapping

from dryfit.lang.sweep import Kind, Outcome

PASSES = Outcome(kind=Kind.PASSES)


def easy(settings: Mapping[str, str]) -> Outcome:
    """Passes, but finds something with every third `n`."""
    n = int(settings["n"])
    return PASSES if n % 3 else Outcome(kind=Kind.FINDINGS, codes=(("F101", 1),), said=f"of {n}")


def deadly(settings: Mapping[str, str]) -> Outcome:
    """Some variants end their process, or never end."""
    match settings["n"]:
        case "3":
            os.kill(os.getpid(), signal.SIGKILL)
        case "5":
            os._exit(7)
        case "7":
            raise MemoryError
        case "9":
            raise KeyError("nine")
    return PASSES


def endless(settings: Mapping[str, str]) -> Outcome:
    """One variant holds on to the interpreter for good, in one call."""
    if settings["n"] == "4":
        sum(range(10**15))
    return PASSES


def process(_: Mapping[str, str]) -> Outcome:
    """Passes, and tells which process it is."""
    return Outcome(kind=Kind.PASSES, error=str(os.getpid()))
