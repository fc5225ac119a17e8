"""How does a set of files reach the disk whole, or not at all?

A folder holds at most one set: the files of the last export, listed with their digests in
`.dryfit.json`. That list is the set's word. The steps, and what a crash at each leaves behind:

1. `.dryfit.new/` is filled with the new files, links to the old ones and, last, a journal; all of
   it is flushed. Crash: the old set stands untouched; the next run clears the leftovers away.
2. Each file is renamed into place (never half a file), those no longer made are taken out.
   Crash: some files are old and some new, and the journal beside them says so
   (`is_settled` is false); the next run first brings the old set back.
3. The list is renamed into place. From here the new set counts. Crash: the next run clears up.

A failure that is not a crash (a full disk, a file held open) takes step 2 back before it is
reported. Files that this tool did not make, or that were changed since, are refused unless
`force` is given. What a list or journal names is trusted no further than plain file names in that
folder.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import sys
import unicodedata
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from ..faults import Fault, InternalError

MANIFEST = ".dryfit.json"
STAGING = ".dryfit.new"
JOURNAL = "journal.json"


@dataclass(frozen=True, slots=True)
class Change:
    """One file's step from an old state to a new one; None is "no file". States: see `_state`."""

    name: str
    old: str | None
    new: str | None


def write_set(
    directory: Path, files: Mapping[str, bytes], force: bool, piece: str = ""
) -> tuple[Path, ...]:
    """Makes `files` the set that `directory` holds; the paths, in the order given.

    Files of the set before that are no longer made are removed; what is already there with the
    same bytes is left alone. `piece` says whose files they are. Fault when the folder holds the
    set of another piece or something that is not ours and `force` is not given, when another run
    is writing there, or when the disk refuses: the set before then stands whole.
    """
    _insist_on_plain_names(files)
    if directory.exists() and not directory.is_dir():
        raise Fault(f"`{directory}` is a file, so nothing can be written into it")
    try:
        directory.mkdir(parents=True, exist_ok=True)
        with _alone_in(directory):
            _settle(directory)
            _insist_on_one_piece(directory, piece, force)
            _replace_set(directory, files, force, piece)
    except OSError as error:
        reason = error.strerror or type(error).__name__
        raise Fault(f"`{directory}` could not be written to: {reason}") from error
    return tuple(directory / name for name in files)


def is_settled(directory: Path) -> bool:
    """False while a set is being replaced, and after a crash in the middle of that."""
    return not (directory / STAGING / JOURNAL).exists()


def _insist_on_one_piece(directory: Path, piece: str, force: bool) -> None:
    """Fault when another piece's set stands here: replacing it would take its files away."""
    other = _list(directory).get("piece", piece)
    if other != piece and not force:
        raise Fault(
            f"`{directory}` holds the files of {str(other)!r}: choose another folder, or use "
            "--force to put these in their place"
        )


def _replace_set(directory: Path, files: Mapping[str, bytes], force: bool, piece: str) -> None:
    listed = _listed(directory)
    changes = _changes(directory, files, listed, force)
    contents = {**files, MANIFEST: _manifest(files, piece)}
    before = _state(directory / MANIFEST)
    changes += (Change(MANIFEST, before, _digest(contents[MANIFEST])),)
    changes = tuple(change for change in changes if change.old != change.new)
    if not changes:
        return
    (directory / STAGING).mkdir()
    try:
        _stage(directory, changes, contents)
        _put_in_place(directory, changes)
    except BaseException:
        _settle(directory)
        raise
    _clear(directory)


def _changes(
    directory: Path, files: Mapping[str, bytes], listed: Mapping[str, str], force: bool
) -> tuple[Change, ...]:
    """What has to happen to each file, first the new ones, then those to be removed."""
    wanted = tuple(
        Change(name, _state(directory / name), _digest(content)) for name, content in files.items()
    )
    gone = (
        Change(name, _state(directory / name), None)
        for name in sorted(listed)
        if not any(_same_file(directory, name, new) for new in files)
    )
    stale = tuple(change for change in gone if change.old != "folder")
    for change in wanted + stale:
        _insist_on_ours(directory, change, listed, force)
    return wanted + stale


def _insist_on_ours(
    directory: Path, change: Change, listed: Mapping[str, str], force: bool
) -> None:
    """Fault when what stands at the change's place is not what the list says we made."""
    path = directory / change.name
    if change.old == "folder":
        raise Fault(f"`{path}` is a folder, where a file of that name is to be written")
    if force or change.old in (None, change.new):
        return
    mine = {digest for name, digest in listed.items() if _same_file(directory, name, change.name)}
    if change.old in mine:
        return
    if mine:
        raise Fault(f"`{path}` was changed after it was written: move it away, or use --force")
    raise Fault(f"`{path}` was not made by dryfit: move it away, or use --force")


def _same_file(directory: Path, one: str, other: str) -> bool:
    """Whether two names are one file there: names that differ by case alone are, on some disks."""
    if one == other:
        return True
    if _folded(one) != _folded(other):
        return False
    first, second = directory / one, directory / other
    return first.exists() and second.exists() and first.samefile(second)


# -- staging, putting in place, taking back ------------------------------------------------------


def _stage(directory: Path, changes: tuple[Change, ...], contents: Mapping[str, bytes]) -> None:
    staging = directory / STAGING
    for number, change in enumerate(changes):
        if change.new is not None:
            _write_through(staging / f"new-{number}", contents[change.name])
        if change.old is not None:
            _keep(directory / change.name, staging / f"old-{number}")
    steps = [{"name": c.name, "old": c.old, "new": c.new} for c in changes]
    _write_through(staging / "journal.part", _as_json({"steps": steps}))
    os.replace(staging / "journal.part", staging / JOURNAL)
    _flush_folder(staging)


def _put_in_place(directory: Path, changes: tuple[Change, ...]) -> None:
    """Every file, and after a flush the list, which comes last and makes the new set count."""
    for number, change in enumerate(changes):
        if change.name == MANIFEST:
            _flush_folder(directory)
        if change.new is not None:
            os.replace(directory / STAGING / f"new-{number}", directory / change.name)
        else:
            (directory / change.name).unlink(missing_ok=True)
    _flush_folder(directory)


def _settle(directory: Path) -> None:
    """Brings the set before back after an interrupted run, unless that run had finished."""
    staging = directory / STAGING
    if staging.is_symlink():
        raise Fault(f"`{staging}` is a link that dryfit did not make: remove it first")
    if not staging.exists():
        return
    changes = _journal(staging)
    if not any(c.name == MANIFEST and _state(directory / MANIFEST) == c.new for c in changes):
        for number, change in enumerate(changes):
            _take_back(directory, number, change)
        _flush_folder(directory)
    _clear(directory)


def _take_back(directory: Path, number: int, change: Change) -> None:
    """The old file again, if the new one stands there; what others put there since stays."""
    path, kept = directory / change.name, directory / STAGING / f"old-{number}"
    if _state(path) != change.new or change.old == change.new:
        return
    if change.old is None:
        path.unlink()
    elif _state(kept) == change.old:
        os.replace(kept, path)


def _journal(staging: Path) -> tuple[Change, ...]:
    """The steps of an interrupted run; none when it had not begun to put files in place."""
    path = staging / JOURNAL
    if not path.exists():
        return ()
    try:
        steps = json.loads(path.read_bytes())["steps"]
        changes = tuple(Change(step["name"], step["old"], step["new"]) for step in steps)
    except (ValueError, TypeError, KeyError, RecursionError) as error:
        raise Fault(f"`{path}`, left by an interrupted run, is damaged: remove it") from error
    if not all(c.name == MANIFEST or _is_plain(c.name) for c in changes):
        raise Fault(f"`{path}` names files outside its folder: remove it")
    return changes


def _clear(directory: Path) -> None:
    """Takes the staging folder away, the journal first: it alone gives the rest a meaning."""
    (directory / STAGING / JOURNAL).unlink(missing_ok=True)
    shutil.rmtree(directory / STAGING)


# -- the list ------------------------------------------------------------------------------------


def _manifest(files: Mapping[str, bytes], piece: str) -> bytes:
    listed = {name: _digest(files[name]) for name in sorted(files)}
    return _as_json({"made_by": "dryfit", "layout": 1, "piece": piece, "files": listed})


def _list(directory: Path) -> dict[str, object]:
    """What the list there says; nothing when there is none, or a damaged one."""
    path = directory / MANIFEST
    if path.is_symlink() or not path.is_file():
        return {}
    try:
        said = json.loads(path.read_bytes())
    except (ValueError, RecursionError):
        return {}
    return said if isinstance(said, dict) else {}


def _listed(directory: Path) -> dict[str, str]:
    """The digests of the files this tool says it made there."""
    files = _list(directory).get("files")
    if not isinstance(files, dict):
        return {}
    return {name: files[name] for name in files if _is_plain(name)}


def _as_json(value: object) -> bytes:
    return (json.dumps(value, indent=2, ensure_ascii=True) + "\n").encode()


# -- names, states, disk -------------------------------------------------------------------------


def _insist_on_plain_names(files: Mapping[str, bytes]) -> None:
    for name in files:
        if not _is_plain(name):
            raise InternalError(f"{name!r} is not a plain file name")
    if len({_folded(name) for name in files}) != len(files):
        raise InternalError("two files of a set have names that differ by letter case alone")


def _is_plain(name: object) -> bool:
    """A visible file's name without any folder, device or control character in it."""
    if not isinstance(name, str) or not name or name.startswith("."):
        return False
    return not any(c in '/\\:*?"<>|' or not c.isprintable() for c in name)


def _folded(name: str) -> str:
    return unicodedata.normalize("NFKC", name.casefold())


def _digest(content: bytes) -> str:
    return f"sha256:{hashlib.sha256(content).hexdigest()}"


def _state(path: Path) -> str | None:
    """What stands at `path`: None, "folder", where a link leads, or the digest of a file."""
    if path.is_symlink():
        return f"link:{os.readlink(path)}"
    if path.is_dir():
        return "folder"
    return _digest(path.read_bytes()) if path.exists() else None


def _keep(path: Path, kept: Path) -> None:
    """A second name for the file at `path`, or a copy where the disk knows no second names."""
    try:
        os.link(path, kept, follow_symlinks=False)
    except OSError:
        shutil.copy2(path, kept, follow_symlinks=False)


def _write_through(path: Path, content: bytes) -> None:
    with path.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _flush_folder(path: Path) -> None:
    """Renames survive a power cut only once their folder is flushed; Windows has no such call."""
    if sys.platform == "win32":
        return
    folder = os.open(path, os.O_RDONLY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)


@contextmanager
def _alone_in(directory: Path) -> Iterator[None]:
    """Holds the folder while a set is replaced; the system lets go of it if we die.

    Nothing is held on Windows and on network disks that cannot hold a folder: there the user has
    to see to it that two runs do not write to one folder at once.
    """
    if sys.platform == "win32":
        yield
        return
    folder = os.open(directory, os.O_RDONLY)
    try:
        if not _held(folder):
            raise Fault(f"another run is writing to `{directory}`")
        yield
    finally:
        os.close(folder)


def _held(folder: int) -> bool:
    """False when another process holds the folder."""
    if sys.platform == "win32":
        return True
    import fcntl

    try:
        fcntl.flock(folder, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        return not isinstance(error, BlockingIOError)
    return True
