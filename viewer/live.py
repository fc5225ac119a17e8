"""What does an open page show now, and what is it told when the design changes?

In: looks at a design, one after another. Out: the picture of the last one that could be understood,
what is amiss with the text since, and news for every page that listens. The picture goes out as
soon as it is there; the checks run beside, and what they find goes out when they are through, if
the design is still the same by then.
"""

from __future__ import annotations

import queue
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from ..kernel.faults import Fault
from ..lang.files import Files
from ..lang.inspection import Inspection
from ..lang.messages.view import ours
from ..lang.render import Pages
from .looking import Looking, is_broken
from .scene import Picture, findings_told
from .wording import Json, complaint, encoded

MOST_LISTENERS = 32
"""Pages open at once; more are turned away."""

QUIET = 0.3
"""Seconds for which the checks wait for a page to fetch the picture first: both want the one
interpreter there is."""

MOST_NEWS = 100
"""News that wait for a page that does not fetch them; then it is let go and asks again."""


@dataclass(frozen=True, slots=True)
class News:
    """`kind` is `scene` (fetch both files anew), `findings` (the text is broken: messages to show
    over the last picture) or `mended`; `data` is JSON."""

    kind: str
    data: str


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture and its number, which rises by one with every picture."""

    picture: Picture
    number: int


Listener = queue.Queue["News | None"]


class Live:
    """A design as last seen; safe to use from many threads."""

    def __init__(self, looking: Looking) -> None:
        self._looking = looking
        self.request = looking.request
        self._lock = threading.Lock()
        self._meshing = threading.Lock()
        self._shown: Shown | None = None
        self._fetched: int | None = None
        self._meshes_fetched: int | None = None
        self._trouble: str | None = None
        self._listeners: list[Listener] = []
        self._unchecked: Inspection | None = None
        self._wake = threading.Condition(self._lock)
        self._closed = False
        self._checker = threading.Thread(target=self._check_on, name="checks", daemon=True)
        self._checker.start()

    # -- looks ---------------------------------------------------------------------------------

    def look(self, files: Files) -> None:
        """Reads the design anew and shows it, or tells what is amiss with it."""
        try:
            inspection = self._looking.read(files)
        except Fault as fault:
            self._amiss([complaint(str(fault))], None)
            return
        except Exception as error:
            self._amiss([complaint(ours(error))], None)
            return
        if is_broken(inspection):
            self._amiss(findings_told(inspection, None), inspection)
            return
        picture = self._pictured(lambda: self._looking.seen(inspection))
        with self._lock:
            mended, self._trouble = self._trouble is not None, None
            self._unchecked = inspection
            if mended:
                self._tell(News("mended", "{}"))
            self._show(picture)
            self._wake.notify()

    def _amiss(self, messages: list[Json], inspection: Inspection | None) -> None:
        """The text is broken: over the last picture, or over what there is of a first one."""
        with self._lock:
            first = self._shown is None
        picture = None
        if first:
            seen = inspection or Inspection(file=self.request.file, findings=(), pages=Pages({}))
            picture = self._pictured(lambda: self._looking.seen(seen))
        with self._lock:
            self._unchecked = None
            self._trouble = encoded({"findings": messages}).decode()
            if picture is not None:
                self._show(picture)
            self._tell(News("findings", self._trouble))

    def _pictured(self, make: Callable[[], Picture]) -> Picture:
        """Meshes are kept from one picture to the next: one picture at a time is made."""
        with self._meshing:
            return make()

    def _check_on(self) -> None:
        """Checks the design last seen, again and again, until closed."""
        while (inspection := self._next_unchecked()) is not None:
            try:
                self._check(inspection)
            except Exception as error:
                self._amiss([complaint(ours(error))], None)

    def _next_unchecked(self) -> Inspection | None:
        """Waits for a design to check that stays as it is while its picture is fetched; None once
        closed."""
        with self._lock:
            while not self._closed:
                inspection = self._unchecked
                if inspection is None:
                    self._wake.wait()
                    continue
                self._wake.wait_for(self._is_fetched, QUIET)
                if self._unchecked is inspection and not self._closed:
                    return inspection
        return None

    def _is_fetched(self) -> bool:
        """Whether no page waits for the picture any more, which the checks would hold up."""
        if self._closed or self._shown is None or not self._listeners:
            return True
        return self._meshes_fetched == self._shown.number

    def _check(self, inspection: Inspection) -> None:
        known = self._looking.checked(inspection)
        more = self._looking.worked(known)
        picture = self._pictured(lambda: self._looking.seen(known, more))
        with self._lock:
            if self._unchecked is inspection:
                self._unchecked = None
                self._show(picture)

    def _show(self, picture: Picture) -> None:
        number = 0 if self._shown is None else self._shown.number
        self._shown = Shown(picture, number + 1)
        self._wake.notify_all()
        self._tell(_scene_news(self._shown))

    # -- pages ---------------------------------------------------------------------------------

    def shown(self) -> Shown:
        """The picture to show now; waits for the first."""
        with self._lock:
            while self._shown is None:
                self._wake.wait()
            return self._shown

    def fetched(self, number: int) -> None:
        """A page has fetched the scene of this number."""
        with self._lock:
            self._fetched = number

    def meshes_fetched(self, number: int) -> None:
        """A page has fetched the meshes of this number."""
        with self._lock:
            self._meshes_fetched = number
            self._wake.notify_all()

    @property
    def listeners(self) -> int:
        """How many pages listen."""
        with self._lock:
            return len(self._listeners)

    @contextmanager
    def listening(self) -> Iterator[Listener | None]:
        """A queue of news for one page, None in it at the end; None when too many listen.

        What the page has missed since it fetched the scene comes first.
        """
        listener = self._listener()
        try:
            yield listener
        finally:
            with self._lock:
                if listener in self._listeners:
                    self._listeners.remove(listener)

    def _listener(self) -> Listener | None:
        listener: Listener = queue.Queue(MOST_NEWS)
        with self._lock:
            if self._closed or len(self._listeners) >= MOST_LISTENERS:
                return None
            self._listeners.append(listener)
            if self._shown is not None and self._fetched != self._shown.number:
                listener.put_nowait(_scene_news(self._shown))
            if self._trouble is not None:
                listener.put_nowait(News("findings", self._trouble))
        return listener

    @property
    def is_checking(self) -> bool:
        """Whether the checks still run: a closed one ends with the check it is at."""
        return self._checker.is_alive()

    def close(self, patience: float = 1.0) -> None:
        """Ends every listener, and the checks if they are through within `patience` seconds."""
        with self._lock:
            self._closed = True
            self._wake.notify_all()
            for listener in self._listeners:
                _end(listener)
            self._listeners.clear()
        self._checker.join(patience)

    def _tell(self, news: News) -> None:
        for listener in tuple(self._listeners):
            try:
                listener.put_nowait(news)
            except queue.Full:
                self._listeners.remove(listener)
                _end(listener)


def _scene_news(shown: Shown) -> News:
    return News("scene", encoded({"number": shown.number}).decode())


def _end(listener: Listener) -> None:
    """Ends a page's news, though it may not have fetched all there is."""
    while True:
        try:
            listener.put_nowait(None)
        except queue.Full:
            listener.get_nowait()
        else:
            return
