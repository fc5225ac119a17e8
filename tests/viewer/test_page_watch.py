"""When a change of a design's text is noticed, and when there is none to notice."""

import os
import queue
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest
from dryfit.kernel.faults import Fault
from dryfit.lang.files import DiskFiles
from dryfit.lang.inspection import Request, planned
from dryfit.viewer.watch import PAUSE, Asked, States, watched
from served import PATIENCE, TRAY

Looks = queue.Queue[set[str]]


@contextmanager
def watching(design: Path) -> Iterator[Looks]:
    """A queue that gets the names of the files watched at each look."""
    looks: Looks = queue.Queue()
    ended = threading.Event()

    def look() -> States:
        reading = Asked(DiskFiles())
        with suppress(Fault):  # where the file is gone
            planned(Request(file=str(design)), reading)
        looks.put({Path(path).name for path in reading.states})
        return reading.states

    thread = threading.Thread(target=watched, args=(look, ended), daemon=True)
    thread.start()
    try:
        looks.get(timeout=PATIENCE)
        yield looks
    finally:
        ended.set()
        thread.join(PATIENCE)
    assert not thread.is_alive()


@pytest.fixture
def design(tmp_path: Path) -> Path:
    path = tmp_path / "tray.dry"
    path.write_text(TRAY)
    return path


def test_it_looks_often_enough() -> None:
    assert PAUSE <= 0.01


def test_a_save_is_noticed_once(design: Path) -> None:
    with watching(design) as looks:
        for width in (210, 220, 230):
            design.write_text(TRAY.replace("200mm", f"{width}mm"))
            assert looks.get(timeout=PATIENCE) == {"tray.dry"}
        with pytest.raises(queue.Empty):
            looks.get(timeout=5 * PAUSE)


def test_a_new_file_put_in_the_old_ones_place_is_noticed(design: Path) -> None:
    with watching(design) as looks:
        fresh = design.with_suffix(".new")
        fresh.write_text(TRAY.replace("200mm", "210mm"))
        os.replace(fresh, design)
        assert looks.get(timeout=PATIENCE)


def test_the_same_bytes_again_are_no_change(design: Path) -> None:
    with watching(design) as looks:
        design.write_text(TRAY)
        os.utime(design, ns=(1, 1))
        with pytest.raises(queue.Empty):
            looks.get(timeout=10 * PAUSE)


def test_a_change_that_time_and_size_do_not_show_is_noticed(design: Path) -> None:
    before = design.stat()
    with watching(design) as looks, design.open("r+b") as file:
        file.write(TRAY.replace("200mm", "300mm").encode())
        file.flush()
        os.utime(design, ns=(before.st_atime_ns, before.st_mtime_ns))
        assert looks.get(timeout=PATIENCE)


def test_used_files_are_watched_and_those_that_are_not_there_yet(design: Path) -> None:
    with watching(design) as looks:
        design.write_text('use "parts/sizes.dry"\n' + TRAY)
        assert looks.get(timeout=PATIENCE) == {"tray.dry", "sizes.dry"}
        (design.parent / "parts").mkdir()
        (design.parent / "parts" / "sizes.dry").write_text("let wide = 1mm\n")
        assert looks.get(timeout=PATIENCE) == {"tray.dry", "sizes.dry"}
        (design.parent / "parts" / "sizes.dry").write_text("let wide = 2mm\n")
        assert looks.get(timeout=PATIENCE)
        design.write_text(TRAY)
        assert looks.get(timeout=PATIENCE) == {"tray.dry"}


def test_a_file_that_goes_is_noticed_and_one_that_comes_back(design: Path) -> None:
    with watching(design) as looks:
        text = design.read_bytes()
        design.unlink()
        assert looks.get(timeout=PATIENCE) == {"tray.dry"}
        design.write_bytes(text)
        assert looks.get(timeout=PATIENCE) == {"tray.dry"}
