"""Who gets anything from the server of a page, and who gets nothing."""

from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from dryfit.kernel.faults import Fault
from dryfit.lang.inspection import Request
from dryfit.viewer.live import MOST_LISTENERS
from dryfit.viewer.opened import Opened, opened
from served import (
    STAND_IN,
    TRAY,
    asked,
    asked_at,
    await_that,
    raw,
    scene_of,
    serving,
    told,
)


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Opened]:
    design = tmp_path_factory.mktemp("tray") / "tray.dry"
    design.write_text(TRAY)
    with serving(design) as made:
        with told(made) as news:
            news.checked_scene(made)
        yield made


def word(page: Opened) -> str:
    return urlsplit(page.address).path.strip("/")


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("", "text/html; charset=utf-8"),
        ("page.js", "text/javascript; charset=utf-8"),
        ("page.css", "text/css"),
        ("scene.json", "application/json"),
        ("scene.glb", "model/gltf-binary"),
        ("scene.json?again=1", "application/json"),
    ],
)
def test_whoever_has_the_address_gets_the_page(page: Opened, name: str, kind: str) -> None:
    answer, content = asked(page, name)
    assert (answer.status, answer.headers["Content-Type"]) == (200, kind)
    assert content
    head, nothing = asked(page, name, "HEAD")
    assert (head.status, nothing) == (200, b"")
    assert head.headers["Content-Length"] == answer.headers["Content-Length"]


def test_what_is_served_is_the_design(page: Opened) -> None:
    scene = scene_of(page)
    assert [board["name"] for board in scene["boards"]] == ["side", "base"]
    assert asked(page, "scene.glb")[1].startswith(b"glTF")
    assert asked(page, "")[1].decode() == STAND_IN.template


def test_it_listens_on_the_loopback_alone(page: Opened) -> None:
    assert page.server.server_address[0] == "127.0.0.1"
    assert page.address.startswith(f"http://127.0.0.1:{page.server.server_port}/")


def test_the_word_is_long_and_another_each_time(page: Opened, tmp_path: Path) -> None:
    design = tmp_path / "tray.dry"
    design.write_text(TRAY)
    with serving(design) as other:
        assert len(word(page)) >= 32
        assert word(page) != word(other)
        assert page.server.server_port != other.server.server_port


def test_without_the_word_there_is_nothing(page: Opened) -> None:
    own = word(page)
    wrong = ["", "x", own[:-1], own + "x", own.swapcase(), own[::-1], "%00", "a" * 5000]
    for guess in wrong:
        for name in ("", "scene.json", "page.js", "events"):
            answer, content = asked_at(page, f"/{guess}/{name}")
            assert (answer.status, content) == (404, b""), guess[:60]
    assert asked_at(page, f"/{own}")[0].status == 404
    host = f"Host: 127.0.0.1:{page.server.server_port}".encode()
    assert raw(page, b"GET /\xe9/ HTTP/1.1\r\n" + host + b"\r\n\r\n").startswith(b"HTTP/1.1 404 ")
    assert asked_at(page, "/")[0].status == 404
    assert asked_at(page, f"/?{own}/scene.json")[0].status == 404


@pytest.mark.parametrize(
    "name",
    [
        "../page.js", "..%2fpage.js", "%2e%2e/", "./page.js", "/page.js", "//etc/passwd",
        "page.js/", "page.js/..", "page%2ejs", "PAGE.JS", "page.js%00", "page.js;x", "tray.dry",
        "scene.json/../../tray.dry", "....//....//etc/passwd", "..\\..\\tray.dry", "dist/page.js",
        "%252e%252e/tray.dry", "index.html", "server.py", "file:///etc/passwd", ".", "..",
    ],
)  # fmt: skip
def test_no_path_leads_anywhere_else(page: Opened, name: str) -> None:
    answer, content = asked(page, name)
    assert (answer.status, content) == (404, b"")


def test_a_whole_address_as_a_path_is_refused(page: Opened) -> None:
    host = f"127.0.0.1:{page.server.server_port}"
    whole = f"GET {page.address}scene.json HTTP/1.1\r\nHost: {host}\r\n\r\n".encode()
    assert raw(page, whole).startswith(b"HTTP/1.1 404 ")


@pytest.mark.parametrize(
    "host",
    [
        "example.org", "127.0.0.1", "localhost", "localhost.example.org:{port}", "0.0.0.0:{port}",
        "[::1]:{port}", "127.0.0.1:{port}.example.org", "127.0.0.1:1", "127.0.0.2:{port}", "",
        "LOCALHOST:{port}", "user@127.0.0.1:{port}",
    ],
)  # fmt: skip
def test_under_another_hosts_name_there_is_nothing(page: Opened, host: str) -> None:
    named = host.format(port=page.server.server_port)
    answer, content = asked(page, "scene.json", Host=named)
    assert (answer.status, content) == (421, b"")


def test_its_own_names_do(page: Opened) -> None:
    for name in ("127.0.0.1", "localhost"):
        answer, _ = asked(page, "scene.json", Host=f"{name}:{page.server.server_port}")
        assert answer.status == 200


def test_none_and_two_hosts_are_refused(page: Opened) -> None:
    path = urlsplit(page.address).path + "scene.json"
    host = f"Host: 127.0.0.1:{page.server.server_port}\r\n"
    for hosts in ("", host + host, host + "Host: example.org\r\n"):
        request = f"GET {path} HTTP/1.1\r\n{hosts}\r\n".encode()
        assert raw(page, request).startswith(b"HTTP/1.1 421 ")


def test_other_pages_get_nothing(page: Opened) -> None:
    for origin in ("http://example.org", "null", "https://127.0.0.1", "http://127.0.0.1:1"):
        answer, content = asked(page, "scene.json", Origin=origin)
        assert (answer.status, content) == (403, b"")
    for site in ("cross-site", "same-site"):
        assert asked(page, "", **{"Sec-Fetch-Site": site})[0].status == 403
    own = f"http://127.0.0.1:{page.server.server_port}"
    assert asked(page, "scene.json", Origin=own)[0].status == 200


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "BREW"])
def test_nothing_but_reading_is_done(page: Opened, method: str) -> None:
    for name in ("", "scene.json", "nowhere"):
        answer, content = asked(page, name, method)
        assert (answer.status, content) == (405, b"")
        assert answer.headers["Allow"] == "GET, HEAD"


def test_a_request_that_carries_something_is_refused(page: Opened) -> None:
    path = urlsplit(page.address).path
    head = f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{page.server.server_port}\r\n"
    for more in ("Content-Length: 5\r\n\r\nhello", "Transfer-Encoding: chunked\r\n\r\n0\r\n\r\n"):
        said = raw(page, (head + more).encode())
        assert said.startswith(b"HTTP/1.1 400 ")
        assert said.count(b"HTTP/1.1") == 1


@pytest.mark.parametrize(
    "request_bytes",
    [b"\r\n\r\n", b"GET\r\n\r\n", b"\x16\x03\x01\x02\x00\x01\x00", b"GET / HTTP/9.9\r\n\r\n",
     b"GET /" + b"a" * 70_000 + b" HTTP/1.1\r\n\r\n", b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
     b"GET / HTTP/1.1\r\n" + b"X: y\r\n" * 200 + b"\r\n"],
    ids=["empty", "half", "tls", "version", "long", "http2", "headers"],
)  # fmt: skip
def test_what_is_no_request_does_no_harm(page: Opened, request_bytes: bytes) -> None:
    said = raw(page, request_bytes)
    assert b"200" not in said.split(b"\r\n")[0]
    assert b"Traceback" not in said
    assert scene_of(page)["boards"]


def test_every_answer_is_guarded_and_none_opens_the_door(page: Opened) -> None:
    answers = [asked(page, name)[0] for name in ("", "page.js", "scene.json", "nowhere")]
    answers += [asked(page, "", "POST")[0], asked(page, "", Host="example.org")[0]]
    for answer in answers:
        policy = answer.headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy
        assert "frame-ancestors 'none'" in policy
        assert "unsafe" not in policy
        assert "*" not in policy
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["Referrer-Policy"] == "no-referrer"
        assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"
        assert answer.headers["Cache-Control"] == "no-store"
        assert not [name for name in answer.headers if name.lower().startswith("access-control")]
        assert "python" not in str(answer.headers).lower()


def test_too_many_pages_are_turned_away_and_room_is_made_again(page: Opened) -> None:
    with ExitStack() as many:
        listeners = [many.enter_context(page.live.listening()) for _ in range(MOST_LISTENERS + 1)]
        assert listeners[0] is not None
        assert listeners[-1] is None
        assert asked(page, "events")[0].status == 503
    with told(page) as news:
        assert news.answer.status == 200


def test_a_page_that_went_away_is_noticed(page: Opened) -> None:
    await_that(lambda: page.live.listeners == 0)
    with told(page):
        assert page.live.listeners == 1
    await_that(lambda: page.live.listeners == 0)


def test_a_port_that_is_taken_is_told(page: Opened) -> None:
    request = Request(file=page.live.request.file)
    with (
        pytest.raises(Fault, match="cannot listen on port"),
        opened(request, STAND_IN, page.server.server_port),
    ):
        pass


def test_a_design_that_is_not_there_is_told_before_anything_is_served(tmp_path: Path) -> None:
    request = Request(file=str(tmp_path / "none.dry"))
    with pytest.raises(Fault, match="cannot read"), opened(request, STAND_IN):
        pass


def test_at_the_end_every_listener_is_let_go(tmp_path: Path) -> None:
    design = tmp_path / "tray.dry"
    design.write_text(TRAY)
    with serving(design) as page, told(page) as news:
        news.checked_scene(page)
        page.live.close()
        rest = news.answer.read()  # ends, else the connection's own patience does
        assert rest.count(b"event") <= 1, "no more than what was on its way"
