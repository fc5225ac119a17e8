"""Who checks the variants of a sweep on this machine? Processes, each with one variant at a time.

A pool of the standard library breaks as a whole when one of its processes dies, and cannot end one
that takes too long. Here a thread looks after each process: it hands over a task, waits for the
answer and knows, when there is none, which task it was; it starts another process for the next.

Processes are forked from a server that has loaded what a check needs (`forkserver`): a fresh
interpreter would spend as long loading it as on checking a cabinet, for every worker and again for
every one that dies; a fork of this process itself would copy its threads' locks in whatever state
they are. Where there is no such server, interpreters are started afresh (`spawn`).
"""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections.abc import Callable
from concurrent.futures import Executor, Future
from dataclasses import dataclass
from multiprocessing.connection import Connection
from multiprocessing.context import ForkServerContext, SpawnContext
from multiprocessing.process import BaseProcess
from queue import SimpleQueue
from threading import Lock, Thread
from typing import Any, Final, ParamSpec, TypeAlias, TypeVar

from .sweep import Lost, TookTooLong

Context: TypeAlias = ForkServerContext | SpawnContext
P = ParamSpec("P")
T = TypeVar("T")

LOADED: Final = (
    "dryfit.lang.sweep",
    "dryfit.lang.pipeline",
    "dryfit.kernel.plan",
    "dryfit.kernel.checks",
    "dryfit.kernel.checks.assembly",
    "dryfit.kernel.checks.expectations",
    "dryfit.kernel.solids",
)
"""What the server loads before it forks."""


LAST_MOMENT: Final = 1.0
"""Seconds a process may take to end by itself once its line is cut, so that its own exit code is
known."""


def cores() -> int:
    """How many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@dataclass(frozen=True, slots=True)
class _Task:
    future: Future[Any]
    call: tuple[Callable[..., Any], tuple[Any, ...], dict[str, Any]]


class Workers(Executor):
    """`count` processes; a task that takes longer than `timeout` seconds is ended with its process.

    A future raises what its task raised, `Lost` when the process ended first, `TookTooLong`.
    """

    def __init__(self, count: int, timeout: float | None = None) -> None:
        self._tasks: SimpleQueue[_Task | None] = SimpleQueue()
        self._timeout = timeout
        self._lock = Lock()
        self._closed = self._ending = False
        self._running: dict[int, _Worker] = {}
        self._context = _context()
        self._hands = [
            Thread(target=self._look_after, args=(number,), daemon=True) for number in range(count)
        ]
        for hand in self._hands:
            hand.start()

    def submit(self, fn: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        if self._closed:
            raise RuntimeError("the workers have gone")
        future: Future[T] = Future()
        self._tasks.put(_Task(future, (fn, args, kwargs)))
        return future

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Lets the workers go: when all tasks are done, or, with `cancel_futures`, at once."""
        with self._lock:
            self._closed = True
            self._ending = self._ending or cancel_futures
            if cancel_futures:
                for worker in self._running.values():
                    worker.end()
        for _ in self._hands:
            self._tasks.put(None)
        for hand in self._hands if wait else ():
            hand.join()

    def _look_after(self, number: int) -> None:
        """The whole life of one worker and those that replace it."""
        worker: _Worker | None = None
        while (task := self._tasks.get()) is not None:
            if self._ending:
                task.future.cancel()
            if not task.future.set_running_or_notify_cancel():
                continue
            try:
                worker = worker if worker and worker.is_alive else self._hire(number)
                good, answer = worker.ask(task.call, self._timeout)
            except Exception as error:
                good, answer = False, error
            if good:
                task.future.set_result(answer)
            else:
                task.future.set_exception(answer)
        if worker is not None:
            worker.end()

    def _hire(self, number: int) -> _Worker:
        """A new worker, unless all are to go."""
        with self._lock:
            if self._ending:
                raise Lost("the sweep was ended")
            self._running[number] = _Worker(self._context)
            return self._running[number]


class _Worker:
    """One process and the line to it."""

    def __init__(self, context: Context) -> None:
        self._line, theirs = context.Pipe()
        self._process: BaseProcess = context.Process(target=_serve, args=(theirs,), daemon=True)
        self._process.start()
        self._has_begun = False
        theirs.close()

    @property
    def is_alive(self) -> bool:
        return self._process.is_alive()

    def ask(self, call: Any, timeout: float | None) -> tuple[bool, Any]:
        """Whether the call came to a result, and that or what it raised. The time that a process
        takes to start is not the task's."""
        try:
            if not self._has_begun:
                self._line.recv()
                self._has_begun = True
            self._line.send(call)
            if not self._line.poll(timeout):
                self.end()
                raise TookTooLong
            answer: tuple[bool, Any] = self._line.recv()
        except (EOFError, OSError) as error:
            self._process.join(LAST_MOMENT)
            self.end()
            raise Lost(self._last_words()) from error
        return answer

    def end(self) -> None:
        """Ends the process, whatever it does."""
        self._process.kill()
        self._process.join()

    def _last_words(self) -> str:
        code = self._process.exitcode
        if code is not None and code < 0:
            return f"it was ended by {signal.Signals(-code).name}"
        return f"it ended with exit code {code}"


def _serve(line: Connection) -> None:
    """What a worker does: it answers until nobody asks. Being interrupted is for who asks."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    line.send(None)
    while True:
        try:
            fn, args, kwargs = line.recv()
        except EOFError:
            return
        answer: tuple[bool, Any]
        try:
            answer = (True, fn(*args, **kwargs))
        except Exception as error:
            answer = (False, error)
        try:
            line.send(answer)
        except OSError:
            return


def _context() -> Context:
    if "forkserver" not in multiprocessing.get_all_start_methods():
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(list(LOADED))
    return context
