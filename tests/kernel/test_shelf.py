"""A set of files reaches the disk whole or not at all, and nothing that is not ours is lost."""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from dryfit.kernel.export import shelf
from dryfit.kernel.export.names import stems
from dryfit.kernel.export.shelf import is_settled, write_set
from dryfit.kernel.faults import Fault, InternalError

OLD = {"left.svg": b"left, first", "shelf.svg": b"shelf, first", "same.svg": b"same"}
NEW = {"left.svg": b"left, second", "top.svg": b"top, second", "same.svg": b"same"}


def seen(folder: Path) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in folder.iterdir() if p.is_file() and p.name[0] != "."}


def test_a_folder_keeps_the_files_of_one_piece(tmp_path: Path) -> None:
    write_set(tmp_path, {"side.svg": b"1"}, False, "cabinet")
    with pytest.raises(Fault, match="holds the files of 'cabinet'"):
        write_set(tmp_path, {"leg.svg": b"2"}, False, "stool")
    assert (tmp_path / "side.svg").read_bytes() == b"1"
    write_set(tmp_path, {"leg.svg": b"2"}, True, "stool")
    assert not (tmp_path / "side.svg").exists()


def test_a_set_is_written_into_a_folder_that_is_not_there_yet(tmp_path: Path) -> None:
    folder = tmp_path / "out" / "cabinet"
    assert write_set(folder, OLD, force=False) == tuple(folder / name for name in OLD)
    assert seen(folder) == OLD
    assert {p.name for p in folder.iterdir()} == {*OLD, shelf.MANIFEST}


def test_the_next_set_replaces_the_last_and_takes_out_what_is_no_longer_made(
    tmp_path: Path,
) -> None:
    write_set(tmp_path, OLD, force=False)
    (tmp_path / "notes.txt").write_text("mine")
    write_set(tmp_path, NEW, force=False)
    assert seen(tmp_path) == {**NEW, "notes.txt": b"mine"}


def test_writing_the_same_set_again_touches_nothing(tmp_path: Path) -> None:
    write_set(tmp_path, OLD, force=False)
    before = {p.name: p.stat().st_ino for p in tmp_path.iterdir()}
    write_set(tmp_path, dict(reversed(OLD.items())), force=False)
    assert {p.name: p.stat().st_ino for p in tmp_path.iterdir()} == before


def test_a_file_made_by_someone_else_is_refused_and_force_takes_it(tmp_path: Path) -> None:
    (tmp_path / "left.svg").write_bytes(b"drawn by hand")
    with pytest.raises(Fault, match=r"left\.svg` was not made by dryfit"):
        write_set(tmp_path, OLD, force=False)
    assert seen(tmp_path) == {"left.svg": b"drawn by hand"}
    write_set(tmp_path, OLD, force=True)
    assert seen(tmp_path) == OLD


@pytest.mark.parametrize("edited", ["left.svg", "shelf.svg"])
def test_a_file_edited_since_is_neither_replaced_nor_removed_unasked(
    tmp_path: Path, edited: str
) -> None:
    write_set(tmp_path, OLD, force=False)
    (tmp_path / edited).write_bytes(b"edited")
    with pytest.raises(Fault, match="was changed after it was written"):
        write_set(tmp_path, NEW, force=False)
    assert seen(tmp_path) == {**OLD, edited: b"edited"}
    write_set(tmp_path, NEW, force=True)
    assert seen(tmp_path) == NEW


def test_a_foreign_file_that_already_has_the_wanted_bytes_is_taken_over(tmp_path: Path) -> None:
    (tmp_path / "left.svg").write_bytes(OLD["left.svg"])
    write_set(tmp_path, OLD, force=False)
    write_set(tmp_path, NEW, force=False)
    assert seen(tmp_path) == NEW


def test_a_link_is_not_followed(tmp_path: Path) -> None:
    outside = tmp_path / "outside.txt"
    outside.write_bytes(b"precious")
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / "left.svg").symlink_to(outside)
    with pytest.raises(Fault, match="not made by dryfit"):
        write_set(folder, OLD, force=False)
    write_set(folder, OLD, force=True)
    assert outside.read_bytes() == b"precious"
    assert not (folder / "left.svg").is_symlink()


def test_a_folder_in_the_way_is_refused_even_with_force(tmp_path: Path) -> None:
    (tmp_path / "left.svg").mkdir()
    with pytest.raises(Fault, match="is a folder"):
        write_set(tmp_path, OLD, force=True)
    assert seen(tmp_path) == {}


def test_a_file_where_the_folder_should_be_is_a_fault(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file")
    with pytest.raises(Fault, match="is a file"):
        write_set(tmp_path / "out", OLD, force=True)


def test_a_list_that_names_files_elsewhere_claims_nothing(tmp_path: Path) -> None:
    victim = tmp_path / "victim.txt"
    victim.write_bytes(b"precious")
    folder = tmp_path / "out"
    folder.mkdir()
    listed = {"files": {"../victim.txt": shelf._digest(b"precious")}}
    (folder / shelf.MANIFEST).write_text(json.dumps(listed))
    write_set(folder, OLD, force=True)
    assert victim.read_bytes() == b"precious"


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"files": 3}', '{"files": ["left.svg"]}', "\0"])
def test_a_damaged_list_is_no_licence_to_overwrite(tmp_path: Path, text: str) -> None:
    (tmp_path / shelf.MANIFEST).write_text(text)
    (tmp_path / "left.svg").write_bytes(b"someone's")
    with pytest.raises(Fault):
        write_set(tmp_path, OLD, force=False)
    assert seen(tmp_path) == {"left.svg": b"someone's"}


@pytest.mark.parametrize("name", ["", ".hidden", "../up.svg", "a/b.svg", "a\\b.svg", "a\n.svg"])
def test_names_that_are_not_plain_are_our_own_fault(tmp_path: Path, name: str) -> None:
    with pytest.raises(InternalError):
        write_set(tmp_path, {name: b""}, force=True)


def test_names_that_one_disk_would_take_for_one_are_our_own_fault(tmp_path: Path) -> None:
    with pytest.raises(InternalError):
        write_set(tmp_path, {"Left.svg": b"", "left.svg": b""}, force=True)


# -- failing and crashing on the way -------------------------------------------------------------


def refuse_at(count: int, real: Callable[..., object]) -> Callable[..., object]:
    """`real` until its `count`th call, which fails like a full disk."""
    calls = 0

    def call(*args: object, **options: object) -> object:
        nonlocal calls
        calls += 1
        if calls == count:
            raise OSError(28, "No space left on device")
        return real(*args, **options)

    return call


@pytest.mark.parametrize("call", ["fsync", "replace"])
@pytest.mark.parametrize("count", range(1, 5))
def test_a_disk_that_refuses_leaves_the_set_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str, count: int
) -> None:
    write_set(tmp_path, OLD, force=False)
    monkeypatch.setattr(os, call, refuse_at(count, getattr(os, call)))
    with pytest.raises(Fault, match="No space left on device"):
        write_set(tmp_path, NEW, force=False)
    monkeypatch.undo()
    assert seen(tmp_path) == OLD
    assert {p.name for p in tmp_path.iterdir()} == {*OLD, shelf.MANIFEST}
    write_set(tmp_path, NEW, force=False)
    assert seen(tmp_path) == NEW


DIE = """
import os, pathlib, shutil, sys
from dryfit.kernel.export import shelf

left = int(sys.argv[2])

def counted(real):
    def call(*args, **options):
        global left
        left -= 1
        if left == 0:
            os._exit(9)
        return real(*args, **options)
    return call

for owner, name in [(os, "replace"), (os, "link"), (os, "fsync"), (os, "mkdir"),
                    (pathlib.Path, "unlink"), (pathlib.Path, "mkdir"), (shutil, "rmtree")]:
    setattr(owner, name, counted(getattr(owner, name)))
shelf.write_set(pathlib.Path(sys.argv[1]), {new!r}, False)
"""


def test_a_crash_at_any_step_leaves_one_set_or_says_so_and_is_mended(tmp_path: Path) -> None:
    """Kills the writer before each of its calls to the disk in turn."""
    program = DIE.replace("{new!r}", repr(NEW))
    outcomes = []
    for step in range(1, 100):
        folder = tmp_path / str(step)
        write_set(folder, OLD, force=False)
        run = subprocess.run([sys.executable, "-c", program, folder, str(step)], check=False)
        if run.returncode == 0:
            break
        assert run.returncode == 9
        settled, new_counts = is_settled(folder), "top.svg" in shelf._listed(folder)
        if settled:
            assert seen(folder) == (NEW if new_counts else OLD)
        shelf._settle(folder)
        assert seen(folder) == (NEW if new_counts else OLD)
        outcomes.append((settled, new_counts))
        write_set(folder, {"after.svg": b"after"}, force=False)
        assert {p.name for p in folder.iterdir()} == {"after.svg", shelf.MANIFEST}
    else:
        pytest.fail("the writer never came to its end")
    assert seen(folder) == NEW
    assert outcomes == sorted(
        outcomes, key=[(True, False), (False, False), (False, True), (True, True)].index
    )
    assert len(set(outcomes)) == 4


def test_after_a_crash_what_the_user_changed_is_not_taken_back(tmp_path: Path) -> None:
    write_set(tmp_path, OLD, force=False)
    program = DIE.replace("{new!r}", repr(NEW))
    for step in range(1, 100):
        run = subprocess.run([sys.executable, "-c", program, tmp_path, str(step)], check=False)
        assert run.returncode == 9
        if seen(tmp_path).get("top.svg"):
            break
    (tmp_path / "left.svg").write_bytes(b"mine now")
    with pytest.raises(Fault, match="was changed"):
        write_set(tmp_path, NEW, force=False)
    assert seen(tmp_path) == {**OLD, "left.svg": b"mine now"}


def test_two_runs_do_not_write_to_one_folder_at_once(tmp_path: Path) -> None:
    with shelf._alone_in(tmp_path), pytest.raises(Fault, match="another run"):
        write_set(tmp_path, OLD, force=False)


def test_a_damaged_journal_is_reported_and_nothing_touched(tmp_path: Path) -> None:
    write_set(tmp_path, OLD, force=False)
    (tmp_path / shelf.STAGING).mkdir()
    (tmp_path / shelf.STAGING / shelf.JOURNAL).write_text("{")
    with pytest.raises(Fault, match="damaged"):
        write_set(tmp_path, NEW, force=False)
    assert seen(tmp_path) == OLD


# -- names ---------------------------------------------------------------------------------------


def test_stems_are_safe_unique_and_stable() -> None:
    names = ["drawer[1].front", "drawer.1.front", "DRAWER-1-FRONT", "con", "Lpt1", "..", "é" * 200]
    names += ["é" * 201, "a/../b", "\N{RIGHT-TO-LEFT OVERRIDE}x", "drawer[1].front-2"]
    found = stems(names)
    assert list(found.values())[:6] == [
        "drawer-1-front",
        "drawer-1-front-2",
        "DRAWER-1-FRONT-3",
        "con-part",
        "Lpt1-part",
        "part",
    ]
    assert len({stem.casefold() for stem in found.values()}) == len(names)
    assert all(len(stem.encode()) < 130 for stem in found.values())
    assert found["a/../b"] == "a-b"
    assert all(shelf._is_plain(f"{stem}.svg") for stem in found.values())
