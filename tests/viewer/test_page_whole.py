"""The page itself, as `dryfit view` saves and serves it, in a real browser."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from bench.designs import rack
from browsing import tab_at
from dryfit.lang.cli import main
from dryfit.lang.files import MemoryFiles
from dryfit.lang.inspection import Request
from dryfit.viewer.looking import Looking
from dryfit.viewer.pagefiles import page_files
from dryfit.viewer.saved import MARK, saved_page
from playwright.sync_api import Browser
from served import PATIENCE, TRAY, serving

CABINET = Path(__file__).parents[2] / "examples" / "seed-cabinet.dry"
DRYFIT = str(Path(sys.executable).with_name("dryfit"))

HURTS = "<img src=x onerror=alert(1)></script><script>alert(2)</script>\u202e"


def saved(design: Path, page: Path) -> Path:
    assert main(["view", str(design), "--save", str(page)]) == 0
    return page


def test_a_saved_page_shows_the_piece_from_the_disk_with_the_network_cut(
    browser: Browser, tmp_path: Path
) -> None:
    page = saved(CABINET, tmp_path / "cabinet.html")
    with tab_at(browser, page.as_uri(), offline=True) as tab:
        counts = tab.state["counts"]
        assert (counts["boards"], counts["joints"], counts["steps"]) == (25, 36, 24)
        assert tab.page.title().startswith("Seed cabinet")
        assert tab.asked == [page.as_uri()]
        assert tab.amiss == []


def test_hostile_names_are_text_and_do_nothing(browser: Browser, tmp_path: Path) -> None:
    design = tmp_path / "<img src=x onerror=alert(3)>.dry"
    design.write_text(TRAY.replace("Seed tray", HURTS), "utf-8")
    page = saved(design, tmp_path / "page.html")
    with tab_at(browser, page.as_uri(), offline=True) as tab:
        assert tab.state["design"] == HURTS
        assert HURTS in tab.page.evaluate("document.body.textContent")
        assert tab.page.evaluate("document.querySelectorAll('img').length") == 0
        assert tab.asked == [page.as_uri()]
        assert tab.amiss == []


def test_a_title_of_great_length_leaves_the_page_as_wide_as_its_window(
    browser: Browser, tmp_path: Path
) -> None:
    design = tmp_path / "long.dry"
    design.write_text(TRAY.replace("Seed tray", "x" * 3000), "utf-8")
    with tab_at(browser, saved(design, tmp_path / "page.html").as_uri()) as tab:
        wide = tab.page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
        assert wide <= 0


def test_an_open_page_follows_the_file(browser: Browser, tmp_path: Path) -> None:
    """Under the server's own policy, which the browser keeps: its complaints would show."""
    design = tmp_path / "tray.dry"
    design.write_text(TRAY)
    with serving(design, page_files()) as page, tab_at(browser, page.address) as tab:
        tab.await_that("window.dryfit.state.checked")
        camera = tab.state["camera"]
        design.write_text(TRAY.replace("0mm..80mm  z 0mm", "0mm..90mm  z 0mm"))
        tab.await_that("window.dryfit.box('side')[1][1] === 90")
        assert tab.state["camera"]["yaw"] == camera["yaw"]

        design.write_text(TRAY.replace("board base of ply12", "board base ply12"))
        tab.await_that("window.dryfit.state.broken !== null")
        (message,) = tab.state["broken"]
        assert message["code"] == "S112"
        assert message["text"] in tab.page.evaluate("document.body.textContent")
        assert tab.page.evaluate("window.dryfit.box('side')[1][1]") == 90

        design.write_text(TRAY)
        tab.await_that("window.dryfit.state.broken === null")
        tab.await_that("window.dryfit.box('side')[1][1] === 80")
        assert all(address.startswith(page.address) for address in tab.asked)
        assert tab.amiss == []


def test_a_thousand_boards_load_and_the_page_answers(browser: Browser, tmp_path: Path) -> None:
    """As soon as the picture is there: what the checks say of it would follow."""
    looking = Looking(Request(file="rack.dry"))
    seen = looking.seen(looking.read(MemoryFiles({"rack.dry": rack(1000)})))
    page = tmp_path / "rack.html"
    page.write_text(saved_page(page_files(), seen, "Rack"), "utf-8")
    with tab_at(browser, page.as_uri()) as tab:
        assert tab.state["counts"]["boards"] == 1000
        assert len(tab.state["visible"]) == 1000
        began = tab.page.evaluate("performance.now()")
        tab.page.get_by_placeholder("Filter").fill("upright[3]")
        tab.await_that("window.dryfit.state.filter === 'upright[3]'")
        assert tab.page.evaluate("performance.now()") - began < 5000
        assert tab.amiss == []


# -- the command ---------------------------------------------------------------------------------


@pytest.fixture
def design(tmp_path: Path) -> Path:
    path = tmp_path / "tray.dry"
    path.write_text(TRAY)
    return path


def test_saving_replaces_what_it_made_and_nothing_else(
    design: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page = tmp_path / "page.html"
    saved(design, page)
    first = page.read_bytes()
    assert first.endswith(f"{MARK}\n".encode())
    design.write_text(TRAY.replace("200mm", "300mm"))
    saved(design, page)
    assert page.read_bytes() != first
    page.write_text("a letter")
    assert main(["view", str(design), "--save", str(page)]) == 2
    assert "was not made by dryfit" in capsys.readouterr().err
    assert page.read_text() == "a letter"
    assert main(["view", str(design), "--save", str(page), "--force"]) == 0


def test_what_is_amiss_is_told_and_shown_where_there_is_a_piece(
    design: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page = tmp_path / "page.html"
    design.write_text(TRAY.replace("join base into side with dado\n", ""))
    assert main(["view", str(design), "--save", str(page)]) == 1
    assert "error[F102]" in capsys.readouterr().err
    assert page.exists()


def test_nothing_is_saved_of_a_file_that_holds_no_design(design: Path, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    design.write_text("")
    assert main(["view", str(design), "--save", str(page)]) == 1
    assert not page.exists()
    assert main(["view", str(tmp_path / "none.dry"), "--save", str(page)]) == 2


@pytest.mark.parametrize("port", ["0", "65536", "x", "-1", "", "٣"])
def test_a_port_that_is_none_is_refused(
    design: Path, capsys: pytest.CaptureFixture[str], port: str
) -> None:
    assert main(["view", str(design), f"--port={port}"]) == 2
    assert "--port is a number" in capsys.readouterr().err


def test_it_prints_where_it_shows_and_ends_when_interrupted(design: Path) -> None:
    command = [DRYFIT, "view", str(design), "--no-open"]
    environment = {**os.environ, "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment
    ) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        assert running.stdout.readline().startswith(f"{design}: http://127.0.0.1:")
        assert "Ctrl-C" in running.stdout.readline()
        running.send_signal(signal.SIGINT)
        assert running.wait(PATIENCE) == 0
        assert running.stderr.read() == ""
