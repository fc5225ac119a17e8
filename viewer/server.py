"""Who may see the page of a design, and what is served to them?

A server for the one person at this machine: it listens on the loopback address alone, on a port the
system picks. Every address starts with a long random word, so that no other program or page can
guess one; whoever asks under another host's name, from another page, or for anything but the few
files below is turned away with nothing told. What is served comes from memory: no path reaches a
disk.

    GET /WORD/            the page                GET /WORD/scene.json   what it shows
    GET /WORD/page.js     its script              GET /WORD/scene.glb    its meshes
    GET /WORD/page.css    its style               GET /WORD/events       news, as they come

News are server-sent events (HTML standard, 9.2): `scene` (fetch both anew), `findings` (the text is
broken; `{"findings": [...]}`, each as in a scene, to show over the last picture) and `mended`.
"""

from __future__ import annotations

import hmac
import queue
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any, Final

from .live import Listener, Live, News
from .pagefiles import SCRIPT, STYLE, PageFiles

LOOPBACK: Final = "127.0.0.1"

POLICY: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; "
    "img-src 'self' data: blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)

GUARDED: Final[Mapping[str, str]] = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}
"""Sent with every answer."""

HTML, JS, CSS = "text/html; charset=utf-8", "text/javascript; charset=utf-8", "text/css"
JSON, GLB, EVENTS = "application/json", "model/gltf-binary", "text/event-stream"

SIGN_OF_LIFE: Final = 2.0
"""Seconds after which a page without news is sent a comment, so that one gone is noticed."""


@dataclass(frozen=True, slots=True)
class Answer:
    kind: str
    content: bytes


class PageServer(ThreadingHTTPServer):
    """The server of one design; `serve_forever` until `shutdown`."""

    daemon_threads = True
    block_on_close = False

    def __init__(self, live: Live, files: PageFiles, port: int = 0) -> None:
        """`port` 0 leaves it to the system; OSError where the port asked for is taken."""
        super().__init__((LOOPBACK, port), _Handler)
        self.live = live
        self.word = secrets.token_urlsafe(24)
        self.fixed: Mapping[str, Answer] = {
            "": Answer(HTML, files.template.encode()),
            SCRIPT: Answer(JS, files.script.encode()),
            STYLE: Answer(CSS, files.style.encode()),
        }

    @property
    def hosts(self) -> tuple[str, ...]:
        """The names under which this server may be asked."""
        return tuple(f"{name}:{self.server_port}" for name in (LOOPBACK, "localhost"))

    @property
    def address(self) -> str:
        """Where the page is: whoever knows it may see the design."""
        return f"http://{self.hosts[0]}/{self.word}/"

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A page that goes away in the middle of an answer is nothing to tell of."""


class _Handler(BaseHTTPRequestHandler):
    """One connection."""

    server: PageServer
    protocol_version = "HTTP/1.1"
    timeout = 30
    disable_nagle_algorithm = True  # else what is sent in two goes may wait until the first is told
    server_version = "dryfit"
    sys_version = ""

    def do_GET(self) -> None:
        self._answer()

    def do_HEAD(self) -> None:
        self._answer()

    def _answer(self) -> None:
        refusal = self._refusal()
        if refusal is not None:
            self._refuse(refusal)
            return
        name = self._name()
        match name:
            case None:
                self._refuse(HTTPStatus.NOT_FOUND)
            case "scene.json":
                shown = self.server.live.shown()
                self.server.live.fetched(shown.number)
                self._send(Answer(JSON, shown.picture.scene))
            case "scene.glb":
                shown = self.server.live.shown()
                self._send(Answer(GLB, shown.picture.piece))
                self.server.live.meshes_fetched(shown.number)
            case "events":
                self._send_news()
            case _ if name in self.server.fixed:
                self._send(self.server.fixed[name])
            case _:
                self._refuse(HTTPStatus.NOT_FOUND)

    # -- who asks, and for what ----------------------------------------------------------------

    def _refusal(self) -> HTTPStatus | None:
        """Why nothing is served, whatever was asked for; None when something may be."""
        hosts = self.headers.get_all("Host") or []
        if len(hosts) != 1 or hosts[0] not in self.server.hosts:
            return HTTPStatus.MISDIRECTED_REQUEST
        if "Content-Length" in self.headers or "Transfer-Encoding" in self.headers:
            return HTTPStatus.BAD_REQUEST
        origin = self.headers.get("Origin")
        if origin is not None and origin not in {f"http://{host}" for host in self.server.hosts}:
            return HTTPStatus.FORBIDDEN
        if self.headers.get("Sec-Fetch-Site", "none") not in ("none", "same-origin"):
            return HTTPStatus.FORBIDDEN
        return None

    def _name(self) -> str | None:
        """What is asked for under the right word, as it stands: nothing in it is decoded, so no
        other spelling of a name reaches a file. What follows a `?` counts for nothing."""
        asked, _, _ = self.path.partition("?")
        start, _, rest = asked.partition("/")
        word, slash, name = rest.partition("/")
        fits = hmac.compare_digest(word.encode("utf-8", "replace"), self.server.word.encode())
        return name if fits and slash and not start else None

    # -- answers -------------------------------------------------------------------------------

    def _send(self, answer: Answer) -> None:
        self._begin(HTTPStatus.OK, answer.kind)
        self.send_header("Content-Length", str(len(answer.content)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(answer.content)

    def _refuse(self, status: HTTPStatus) -> None:
        """Says no more than the status does, and ends the connection."""
        self.close_connection = True
        self._begin(status, "text/plain")
        if status is HTTPStatus.METHOD_NOT_ALLOWED:
            self.send_header("Allow", "GET, HEAD")
        self.send_header("Content-Length", "0")
        self.send_header("Connection", "close")
        self.end_headers()

    def _begin(self, status: HTTPStatus, kind: str) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        for header, value in GUARDED.items():
            self.send_header(header, value)

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """What the library finds wrong with a request before it is ours to answer."""
        unknown = code == HTTPStatus.NOT_IMPLEMENTED
        self._refuse(HTTPStatus.METHOD_NOT_ALLOWED if unknown else HTTPStatus(code))

    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002  named by the library
        """Nobody reads over the shoulder."""

    def _send_news(self) -> None:
        """News until the page goes away or the server ends."""
        self.close_connection = True
        with self.server.live.listening() as listener:
            if listener is None:
                self._refuse(HTTPStatus.SERVICE_UNAVAILABLE)
                return
            self._begin(HTTPStatus.OK, EVENTS)
            self.send_header("Connection", "close")
            self.end_headers()
            if self.command == "HEAD":
                return
            self.wfile.write(b": here\n\n")
            while (said := _next(listener)) is not None:
                self.wfile.write(said)


def _next(listener: Listener) -> bytes | None:
    """What to send next; None at the end."""
    try:
        news = listener.get(timeout=SIGN_OF_LIFE)
    except queue.Empty:
        return b": still here\n\n"
    return None if news is None else event(news)


def event(news: News) -> bytes:
    """One event. Its data is JSON, whose line ends are escapes: it is one line."""
    return f"event: {news.kind}\ndata: {news.data}\n\n".encode()
