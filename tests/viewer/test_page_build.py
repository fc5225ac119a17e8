"""How the page is bundled: when it is made anew, what is put in its place, what may be fetched.

The real run, npm and bundler included, is the install that comes before every test run.
"""

import json
import re
import shutil
from pathlib import Path

import pytest
from dryfit.viewer import build_page, pagefiles
from setuptools import Distribution
from setuptools.errors import ExecError

PAGE = Path(__file__).parents[2] / "viewer" / "page"


def test_the_lock_file_names_every_piece_with_its_digest_and_no_host() -> None:
    text = (PAGE / "package-lock.json").read_text("utf-8")
    pieces = {name: piece for name, piece in json.loads(text)["packages"].items() if name}
    assert len(pieces) > 5
    assert all(piece["integrity"].startswith("sha512-") for piece in pieces.values())
    assert not any("resolved" in piece for piece in pieces.values())
    assert not re.search(r"https?://|\bregistry\b", text)
    assert "omit-lockfile-registry-resolved=true" in (PAGE / ".npmrc").read_text("utf-8")


def test_what_is_asked_for_is_exact() -> None:
    """Equal sources give equal pages: no version is left to the day of the build."""
    asked = json.loads((PAGE / "package.json").read_text("utf-8"))
    for version in {**asked["dependencies"], **asked["devDependencies"]}.values():
        assert re.fullmatch(r"\d+\.\d+\.\d+", version)


def test_the_page_installed_is_whole() -> None:
    files = pagefiles.page_files()
    assert f'href="{pagefiles.STYLE}"' in files.template
    assert f'src="{pagefiles.SCRIPT}"' in files.template
    assert len(files.script) > 100_000
    assert {pagefiles.TEMPLATE, pagefiles.SCRIPT, pagefiles.STYLE} == set(build_page.FILES)


class Bench:
    """A page of a few files, and a node that only notes what it is asked and writes three files."""

    def __init__(self, folder: Path) -> None:
        self.page, self.built = folder / "page", folder / "dist"
        self.ran: list[str] = []
        self.fails = ""
        (self.page / "src").mkdir(parents=True)
        (self.page / "src" / "main.ts").write_text("1")
        (self.page / "package.json").write_text('{"dependencies": {"wood": "1.2.3"}}')

    def node(self, script: str, *arguments: str, cwd: Path) -> None:
        self.ran.append(script)
        if script == self.fails:
            raise ExecError(script)
        assert not (cwd / "node_modules" / "left").exists()
        if script == "npm-cli.js":
            (cwd / "node_modules" / "wood").mkdir(parents=True)
            (cwd / "node_modules" / "wood" / "LICENSE").write_text("Take it.")
            return
        (cwd.parent / "dist").mkdir()
        for name in build_page.FILES:
            (cwd.parent / "dist" / name).write_text((cwd / "src" / "main.ts").read_text())

    def run(self) -> None:
        build_page.BuildPage(Distribution()).run()


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Bench:
    made = Bench(tmp_path)
    monkeypatch.setattr(build_page, "PAGE", made.page)
    monkeypatch.setattr(build_page, "BUILT", made.built)
    monkeypatch.setattr(build_page, "node", made.node)
    return made


def test_a_page_is_built_once_and_again_when_it_changed(bench: Bench) -> None:
    bench.run()
    assert bench.ran == ["npm-cli.js", "build.mjs"]
    assert (bench.built / "page.js").read_text() == "1"
    assert "wood 1.2.3\n\nTake it." in (bench.built / build_page.LICENCES).read_text()
    bench.run()
    assert len(bench.ran) == 2
    (bench.page / "src" / "main.ts").write_text("2")
    bench.run()
    assert (bench.built / "page.js").read_text() == "2"


def test_what_npm_left_behind_is_no_source(bench: Bench) -> None:
    bench.run()
    (bench.page / "node_modules" / "left").mkdir(parents=True)
    (bench.page / "node_modules" / "left" / "over.js").write_text("x")
    bench.run()
    assert len(bench.ran) == 2


@pytest.mark.parametrize("gone", build_page.FILES)
def test_a_page_with_a_file_missing_is_built_again(bench: Bench, gone: str) -> None:
    bench.run()
    (bench.built / gone).unlink()
    bench.run()
    assert (bench.built / gone).is_file()


@pytest.mark.parametrize("script", ["npm-cli.js", "build.mjs"])
def test_a_build_that_fails_leaves_the_page_as_it_was(bench: Bench, script: str) -> None:
    bench.run()
    before = {path.name: path.read_bytes() for path in bench.built.iterdir()}
    (bench.page / "src" / "main.ts").write_text("2")
    bench.fails = script
    with pytest.raises(ExecError):
        bench.run()
    assert {path.name: path.read_bytes() for path in bench.built.iterdir()} == before


def test_what_node_complains_of_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shell = shutil.which("sh")
    assert shell is not None
    monkeypatch.setattr(build_page, "_node_of_wheel", lambda: (Path(shell), tmp_path))
    (tmp_path / "build.mjs").write_text("echo there is no glue >&2; exit 3")
    with pytest.raises(ExecError, match=r"build\.mjs ended with 3\n.*there is no glue"):
        build_page.node("build.mjs", cwd=tmp_path)


def test_the_types_hold(tmp_path: Path) -> None:
    """The bundler drops types unread; the compiler that reads them is no part of a build."""
    page = tmp_path / "page"
    shutil.copytree(PAGE, page, ignore=shutil.ignore_patterns(*build_page.NOT_SOURCE))
    build_page.node("npm-cli.js", "ci", "--ignore-scripts", cwd=page)
    build_page.node("node_modules/typescript/bin/tsc", "--noEmit", cwd=page)


def test_the_sources_go_into_a_source_distribution() -> None:
    files = build_page.BuildPage(Distribution()).get_source_files()
    assert {"viewer/page/build.mjs", "viewer/page/package-lock.json", "viewer/page/.npmrc"} <= set(
        files
    )
    assert not [name for name in files if "node_modules" in name]
