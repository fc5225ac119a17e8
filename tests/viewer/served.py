"""A design served as `dryfit view` serves it, for the tests; and its news, one after another."""

from __future__ import annotations

import json
import socket
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from dryfit.lang.inspection import Request
from dryfit.viewer.opened import Opened, opened
from dryfit.viewer.pagefiles import PageFiles

PATIENCE = 20.0
"""Seconds until a test gives up waiting; far more than anything takes."""

TRAY = """\
design "Seed tray"
stock ply12 { sheet 2440mm by 1220mm, thick 12mm, species birch_ply }
bit b6 { straight 6mm, flute 22mm }
board side of ply12  x 0mm..12mm   y 0mm..80mm  z 0mm..60mm
board base of ply12  x 8mm..200mm  y 0mm..80mm  z 10mm..22mm
join base into side with dado
"""

STAND_IN = PageFiles(
    template='<!doctype html><html lang="en"><head><title>-</title>'
    '<link rel="stylesheet" href="page.css"></head>'
    '<body><script src="page.js"></script></body></html>',
    script='document.title = "ran";',
    style="body { margin: 0 }",
)
"""The least page there can be."""


@contextmanager
def serving(design: Path, files: PageFiles = STAND_IN) -> Iterator[Opened]:
    """The design at this path, watched and served meanwhile."""
    ended = threading.Event()
    with opened(Request(file=str(design)), files) as page:
        following = threading.Thread(target=page.follow, args=(ended,), daemon=True)
        following.start()
        try:
            yield page
        finally:
            ended.set()
            following.join(PATIENCE)
    assert not following.is_alive()


def await_that(holds: Callable[[], bool]) -> None:
    """Waits until it holds; fails when it never does."""
    pause = threading.Event()
    for _ in range(int(PATIENCE / 0.02)):
        if holds():
            return
        pause.wait(0.02)
    raise AssertionError("it never held")


def asked(
    page: Opened, name: str, method: str = "GET", **headers: str
) -> tuple[HTTPResponse, bytes]:
    """What the server answers under the page's own address."""
    return asked_at(page, urlsplit(page.address).path + name, method, headers)


def asked_at(
    page: Opened, path: str, method: str = "GET", headers: dict[str, str] | None = None
) -> tuple[HTTPResponse, bytes]:
    connection = HTTPConnection("127.0.0.1", page.server.server_port, timeout=PATIENCE)
    try:
        connection.request(method, path, headers=headers or {})
        answer = connection.getresponse()
        return answer, answer.read()
    finally:
        connection.close()


def raw(page: Opened, request: bytes) -> bytes:
    """The whole answer to bytes sent as they are."""
    with socket.create_connection(("127.0.0.1", page.server.server_port), PATIENCE) as wire:
        wire.sendall(request)
        wire.shutdown(socket.SHUT_WR)
        return b"".join(iter(lambda: wire.recv(65536), b""))


def scene_of(page: Opened) -> dict[str, Any]:
    answer, content = asked(page, "scene.json")
    assert answer.status == 200
    return dict(json.loads(content))


@dataclass
class Told:
    """A page's news as they come."""

    connection: HTTPConnection
    answer: HTTPResponse

    def next(self) -> tuple[str, Any]:
        """The kind and the data of the next event; fails when none comes."""
        kind = ""
        while True:
            line = self.answer.readline().decode().rstrip("\n")
            if line.startswith("event: "):
                kind = line.removeprefix("event: ")
            elif line.startswith("data: "):
                return kind, json.loads(line.removeprefix("data: "))

    def until(self, kind: str) -> Any:
        """The data of the next event of a kind; others before it are passed over."""
        while True:
            found, data = self.next()
            if found == kind:
                return data

    def checked_scene(self, page: Opened) -> dict[str, Any]:
        """The next scene whose checks are through."""
        while True:
            self.until("scene")
            scene = scene_of(page)
            if scene["checked"]:
                return scene


@contextmanager
def told(page: Opened) -> Iterator[Told]:
    connection = HTTPConnection("127.0.0.1", page.server.server_port, timeout=PATIENCE)
    try:
        connection.request("GET", urlsplit(page.address).path + "events")
        answer = connection.getresponse()
        assert answer.status == 200
        assert answer.headers["Content-Type"] == "text/event-stream"
        yield Told(connection, answer)
        answer.close()
    finally:
        connection.close()
