"""Where do the texts of a design come from?

A design's own file is named by the user and read as named. Files that it uses are looked for in
its own folder tree first and in the library that ships second, and never anywhere else: `wanted`
refuses paths that would lead out by their words, a `Files` refuses those that would by a link.

This is the one place of the language, beside the command line, that touches the disk.
"""

from __future__ import annotations

import codecs
import os
import stat
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from posixpath import basename, dirname, join, normpath
from typing import BinaryIO, Final, Protocol

from ..kernel.faults import Fault
from .name_findings import Escape

ENDING: Final = ".dry"

LIBRARY: Final = Path(__file__).parent / "library"
"""The folder of the files that ship."""


@dataclass(frozen=True, slots=True)
class Tree:
    """A folder that nothing leaves; `label` stands before the names of its files in messages."""

    folder: str
    label: str

    def shown(self, path: str) -> str:
        return join(self.label, path)


@dataclass(frozen=True, slots=True)
class Read:
    """The bytes of a file, cut off where they are too many, and how many it has in all; `identity`
    is the same for every way to the same file."""

    identity: str
    data: bytes
    size: int


class Files(Protocol):
    """Where bytes come from. `most` bounds them: a byte more is read, so that too large shows."""

    @property
    def library(self) -> Tree | None:
        """The tree of the files that ship."""

    def main(self, name: str, most: int) -> Read:
        """The design's own file; a `Fault` when it cannot be read."""

    def used(self, tree: Tree, path: str, most: int) -> Read | Escape | None:
        """The file at `path` below `tree`, a path that `wanted` gave; None when there is none."""

    def names(self, tree: Tree, folder: str) -> tuple[str, ...]:
        """The names of the designs in a folder below `tree`, in order."""


def tree_of(name: str) -> Tree:
    """The folder tree of a design's own file."""
    folder = dirname(name.replace(os.sep, "/"))
    return Tree(folder or ".", folder)


def wanted(path: str, by: str) -> str | Escape:
    """The path below its tree that `use "path"` in the file at `by` asks for.

    >>> wanted("../rail.dry", "parts/drawer.dry"), wanted("../../rail.dry", "parts/drawer.dry")
    ('rail.dry', <Escape.CLIMBS: 'climbs'>)
    """
    refusal = _refusal(path)
    if refusal is not None:
        return refusal
    whole = normpath(join(dirname(by), path))
    if whole == ".." or whole.startswith("../"):
        return Escape.CLIMBS
    return whole if whole.endswith(ENDING) else Escape.ENDING


def _refusal(path: str) -> Escape | None:
    if not path.strip():
        return Escape.EMPTY
    if path.startswith("/"):
        return Escape.ABSOLUTE
    if "\\" in path:
        return Escape.BACKSLASH
    unfit = path.startswith("~") or ":" in path or not path.isprintable()
    return Escape.UNFIT if unfit else None


@dataclass(frozen=True, slots=True)
class DiskFiles:
    """The files on the disk, names as the command line gives them."""

    library: Tree | None = field(default=Tree(str(LIBRARY), "library"))

    def main(self, name: str, most: int) -> Read:
        try:
            with open(name, "rb") as opened:
                return _read(os.path.realpath(name), opened, most)
        except (OSError, ValueError) as error:
            raise Fault(f"cannot read {name}: {_reason(error)}") from error

    def used(self, tree: Tree, path: str, most: int) -> Read | Escape | None:
        root = os.path.realpath(tree.folder)
        real = os.path.realpath(os.path.join(root, *path.split("/")))
        if not Path(real).is_relative_to(root):
            return Escape.LINK
        if not os.path.isfile(real):
            return None
        try:
            return _plain(real, most)
        except OSError as error:
            raise Fault(f"cannot read {tree.shown(path)}: {_reason(error)}") from error

    def names(self, tree: Tree, folder: str) -> tuple[str, ...]:
        try:
            found = os.listdir(os.path.join(os.path.realpath(tree.folder), folder))
        except OSError:
            return ()  # no such folder: nothing to suggest
        return tuple(sorted(name for name in found if name.endswith(ENDING)))


def _read(identity: str, opened: BinaryIO, most: int) -> Read:
    data = opened.read(most + 1)
    return Read(identity, data, max(len(data), os.fstat(opened.fileno()).st_size))


def _plain(real: str, most: int) -> Read:
    """A plain file whose links have been followed already: a link put in its place
    since is not followed, and a pipe does not make us wait."""
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    with os.fdopen(os.open(real, flags | getattr(os, "O_BINARY", 0)), "rb") as opened:
        if not stat.S_ISREG(os.fstat(opened.fileno()).st_mode):
            raise OSError("not a plain file")
        return _read(real, opened, most)


def _reason(error: OSError | ValueError) -> str:
    return getattr(error, "strerror", None) or str(error)


@dataclass(frozen=True, slots=True)
class MemoryFiles:
    """Files held in memory, by name: for tests, the editor, and designs made by a program."""

    texts: Mapping[str, str | bytes]
    library: Tree | None = None

    def main(self, name: str, most: int) -> Read:
        if name not in self.texts:
            raise Fault(f"cannot read {name}: no such file")
        return self._read(normpath(name), name, most)

    def used(self, tree: Tree, path: str, most: int) -> Read | Escape | None:
        name = normpath(join(tree.folder, path))
        for known in self.texts:
            if normpath(known) == name:
                return self._read(name, known, most)
        return None

    def names(self, tree: Tree, folder: str) -> tuple[str, ...]:
        home = normpath(join(tree.folder, folder))
        known = (normpath(name) for name in self.texts)
        return tuple(sorted(basename(n) for n in known if normpath(dirname(n) or ".") == home))

    def _read(self, identity: str, name: str, most: int) -> Read:
        text = self.texts[name]
        data = text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass")
        return Read(identity, data[: most + 1], len(data))


def rewrite(name: str, before: str, after: str) -> None:
    """Puts the text `after` in the place of `before` in a file, its byte order mark kept.

    Fault when the file holds another text by now, or cannot be written.
    """
    path = Path(name).resolve()
    try:
        data = path.read_bytes()
        mark = codecs.BOM_UTF8 if data.startswith(codecs.BOM_UTF8) else b""
        if data != mark + before.encode("utf-8"):
            raise Fault(f"{name} was changed while it was checked: nothing was mended")
        replace_file(path, mark + after.encode("utf-8"))
    except OSError as error:
        raise Fault(f"cannot write {name}: {_reason(error)}") from error


def replace_file(path: Path, data: bytes) -> None:
    """Puts the bytes at `path` whole or not at all, with the rights of the file replaced."""
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.chmod(name, _mode(path))
        os.replace(name, path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _mode(path: Path) -> int:
    """The rights of the file replaced, else those that a new file gets here."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
