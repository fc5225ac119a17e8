"""Rules about the code that nobody has to remember: each is a test."""

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from dryfit.kernel.finding import Finding
from dryfit.lang.codes import CODES, finding_class
from dryfit.lang.messages import STAGES, stage_words
from dryfit.lang.version import VERSION

ROOT = Path(__file__).parents[1]
SHIPPED = sorted(p for top in ("kernel", "lang", "viewer") for p in (ROOT / top).rglob("*.py"))
TESTS = sorted((ROOT / "tests").rglob("*.py"))
PAGES = ROOT / "lang" / "explain"
LONGEST_FILE = 450

FACES = {"lang/cli.py", "lang/inspection.py", "lang/loaded.py", "lang/commands"}
"""Parts of `lang/` that call the kernel's stages."""

DESIGN_RECORDS = {
    "board",
    "cutter",
    "design",
    "expect",
    "faults",
    "figures",
    "finding",
    "findings",
    "near",
    "quantity",
    "show",
    "stock",
}
"""Modules of the kernel that the rest of `lang/` may import: records and how figures print."""

WORDS_MAY_READ = DESIGN_RECORDS | {
    "checks.assembly_findings",
    "checks.expect_findings",
    "checks.findings",
    "compared",
    "corner_findings",
    "crossing_findings",
    "cuts",
    "joint_findings",
    "reference",
    "region",
    "shaping_findings",
    "tenon_findings",
}
"""What `lang/messages/` may import besides: the findings and figures it puts into words."""

TOUCH_THE_WORLD = {
    "lang/cli.py",
    "lang/files.py",
    "lang/parse.py",  # reads the grammar that ships beside it
    "lang/terminal.py",
    "lang/workers.py",  # starts and ends processes
    "lang/commands/explain.py",
    "lang/commands/joints.py",
    "lang/commands/show.py",
    "kernel/export/shelf.py",
    "kernel/species.py",  # reads the table that ships beside it
    "lang/commands/view.py",  # opens a browser
    "viewer/build_page.py",  # runs when the package is built
    "viewer/live.py",  # checks beside, on a thread
    "viewer/opened.py",  # serves beside, on a thread
    "viewer/pagefiles.py",  # reads the page that ships beside it
    "viewer/server.py",
    "viewer/watch.py",
}
"""Who may open files, read the environment or ask the system anything."""

WORLDLY_MODULES = {
    "asyncio", "datetime", "fcntl", "glob", "locale", "multiprocessing", "os", "platform",
    "random", "secrets", "shutil", "signal", "socket", "subprocess", "tempfile", "threading",
    "time", "uuid", "webbrowser",
}  # fmt: skip
HARMLESS = {"os.PathLike", "os.fspath"}
WORLDLY_CALLS = {"open", "input", "print", "breakpoint", "exec", "eval"}
WORLDLY_METHODS = {
    "read_text", "read_bytes", "write_text", "write_bytes", "mkdir", "unlink", "rename", "touch",
    "rmdir", "iterdir", "getenv",
}  # fmt: skip


def name_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def is_among(path: Path, names: set[str]) -> bool:
    own = name_of(path)
    return any(own == name or own.startswith(f"{name}/") for name in names)


def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


def imported(path: Path) -> Iterator[tuple[str, ast.stmt]]:
    """The absolute name of every module imported anywhere in a file, names from it appended."""
    package = ["dryfit", *path.relative_to(ROOT).parts[:-1]]
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, node
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            module = ".".join([*base, *([node.module] if node.module else [])])
            for alias in node.names:
                yield f"{module}.{alias.name}", node


def kernel_part(name: str) -> str | None:
    """`board` for anything of `dryfit.kernel.board`, `checks.findings` one level deeper."""
    if not name.startswith("dryfit.kernel."):
        return None
    parts = name.split(".")[2:]
    return ".".join(parts[:2]) if parts[0] in ("checks", "export", "joints") else parts[0]


# -- which way imports go ------------------------------------------------------------------------


def test_the_kernel_knows_nothing_of_the_language_or_the_viewer() -> None:
    wrong = [
        (name_of(path), name)
        for path in SHIPPED
        if is_among(path, {"kernel"})
        for name, _ in imported(path)
        if name.startswith(("dryfit.lang", "dryfit.viewer"))
    ]
    assert wrong == []


def test_the_language_reads_only_design_records_of_the_kernel() -> None:
    wrong = []
    for path in SHIPPED:
        if not is_among(path, {"lang"}) or is_among(path, FACES):
            continue
        allowed = WORDS_MAY_READ if is_among(path, {"lang/messages"}) else DESIGN_RECORDS
        for name, _ in imported(path):
            part = kernel_part(name)
            if part is not None and part not in allowed:
                wrong.append((name_of(path), name))
    assert wrong == []


def test_bare_names_are_refused() -> None:
    wrong = [
        (name_of(path), name)
        for path in [*SHIPPED, *TESTS]
        for name, node in imported(path)
        if name.split(".")[0] in ("kernel", "lang", "viewer")
        or (path in SHIPPED and name.startswith("dryfit.") and getattr(node, "level", 0) == 0)
    ]
    assert wrong == []


def test_the_solid_library_has_three_doors() -> None:
    users = {
        name_of(path)
        for path in SHIPPED
        for name, _ in imported(path)
        if name.split(".")[0] == "manifold3d"
    }
    assert users <= {"kernel/solids.py", "kernel/planar.py", "kernel/still/flats.py"}


def test_the_parser_library_stays_in_the_parser() -> None:
    users = {
        name_of(path)
        for path in SHIPPED
        for name, _ in imported(path)
        if name.split(".")[0] == "lark"
    }
    assert all(re.fullmatch(r"lang/pars\w*\.py|lang/pars\w*/\w+\.py", user) for user in users)


# -- who touches the world -----------------------------------------------------------------------


def worldly(path: Path) -> Iterator[str]:
    """What a file does that depends on more than its arguments."""
    for name, node in imported(path):
        if name.split(".")[0] in WORLDLY_MODULES and name not in HARMLESS:
            yield f"{node.lineno}: imports {name}"
    for node in ast.walk(tree_of(path)):
        if not isinstance(node, ast.Call):
            continue
        match node.func:
            case ast.Name(id=called) if called in WORLDLY_CALLS:
                yield f"{node.lineno}: calls {called}"
            case ast.Attribute(attr=called) if called in WORLDLY_METHODS:
                yield f"{node.lineno}: calls .{called}"


def test_only_the_edge_touches_the_world() -> None:
    wrong = [
        f"{name_of(path)}:{what}"
        for path in SHIPPED
        if not is_among(path, TOUCH_THE_WORLD)
        for what in worldly(path)
    ]
    assert wrong == []


# -- codes ---------------------------------------------------------------------------------------


def live() -> list[str]:
    return [entry.code for entry in CODES if not entry.is_retired]


def all_finding_classes() -> set[type[Finding]]:
    for entry in CODES:
        if not entry.is_retired:
            finding_class(entry)
    found: set[type[Finding]] = set()
    waiting: list[type[Finding]] = [Finding]
    while waiting:
        for sub in waiting.pop().__subclasses__():
            if sub not in found and sub.__module__.startswith("dryfit."):
                found.add(sub)
                waiting.append(sub)
    # A dataclass with slots is made twice; the first making is not in its module.
    return {f for f in found if getattr(sys.modules[f.__module__], f.__name__) is f}


def test_codes_are_well_formed_unique_and_in_order() -> None:
    letters = "".join(STAGES)
    codes = [entry.code for entry in CODES]
    assert codes, "the table is empty"
    assert all(re.fullmatch(f"[{letters}][0-9]{{3}}", code) for code in codes)
    assert codes == sorted(codes, key=lambda code: (letters.index(code[0]), code))
    assert len(set(codes)) == len(codes)


def test_summaries_are_short_plain_and_unlike() -> None:
    summaries = [entry.summary for entry in CODES]
    for summary in summaries:
        assert 8 <= len(summary) <= 80, summary
        assert not summary.endswith("."), summary
        assert summary[0] == summary[0].lower(), summary
    assert len(set(summaries)) == len(summaries)


def test_every_code_names_its_class_and_every_class_its_code() -> None:
    classes = {finding_class(entry): entry.code for entry in CODES if not entry.is_retired}
    assert {found: found.code for found in classes} == classes
    listed = set(classes)
    assert {found for found in all_finding_classes() if found.code} == listed


def has_code(node: ast.ClassDef) -> bool:
    """Whether a class sets `code`."""
    return any(
        isinstance(line, ast.AnnAssign)
        and isinstance(line.target, ast.Name)
        and line.target.id == "code"
        and line.value is not None
        for line in node.body
    )


def test_finding_modules_hold_no_class_outside_the_table() -> None:
    """Classes in any module named for findings, loaded or not."""
    listed = {entry.finding for entry in CODES}
    wrong = []
    for path in SHIPPED:
        if not re.search(r"findings$", path.stem):
            continue
        module = ".".join(path.relative_to(ROOT).with_suffix("").parts)
        wrong += [
            f"{module}.{node.name}"
            for node in tree_of(path).body
            if isinstance(node, ast.ClassDef)
            and has_code(node)
            and f"{module}.{node.name}" not in listed
        ]
    assert wrong == []


@pytest.mark.parametrize("letter", STAGES)
def test_every_code_of_a_stage_has_words_and_no_words_lie_about(letter: str) -> None:
    classes = {
        finding_class(entry)
        for entry in CODES
        if entry.code.startswith(letter) and not entry.is_retired
    }
    assert set(stage_words(letter)) == classes


def test_every_code_has_a_page_and_every_page_a_code() -> None:
    assert sorted(path.stem for path in PAGES.glob("*.md")) == sorted(live())


def test_every_code_is_expected_by_a_program() -> None:
    """Besides its page; a finding that only a design made in Python can have needs no more."""
    texts = [path.read_text(encoding="utf-8") for path in (ROOT / "tests").rglob("*.dry")]
    mentioned = set(re.findall(r"\[([A-Z]\d{3})\]", "\n".join(texts)))
    others = "\n".join(path.read_text(encoding="utf-8") for path in TESTS)
    mentioned |= set(re.findall(r"\b([A-Z]\d{3})\b", others))
    mentioned |= {page.stem for page in PAGES.glob("*.md") if "\n```python\n" in page.read_text()}
    assert sorted(set(live()) - mentioned) == []


# -- files ---------------------------------------------------------------------------------------


def test_packages_listed_are_the_folders_on_disk() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    folders = {
        ".".join(("dryfit", *path.parent.relative_to(ROOT).parts))
        for top in ("kernel", "lang", "viewer")
        for path in (ROOT / top).rglob("__init__.py")
    }
    assert set(project["tool"]["setuptools"]["packages"]) == folders
    assert project["project"]["version"] == VERSION


def test_every_file_that_is_no_code_is_installed_too() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    for package, patterns in project["tool"]["setuptools"]["package-data"].items():
        folder = ROOT / package.removeprefix("dryfit.")
        data = {
            p
            for p in folder.rglob("*")
            if p.is_file()
            and p.suffix not in (".py", ".pyc")
            and not p.is_relative_to(ROOT / "viewer" / "page")  # installed bundled, as `dist`
        }
        assert {p for pattern in patterns for p in folder.glob(pattern)} == data


def test_every_folder_with_code_is_a_package() -> None:
    folders = {path.parent for path in SHIPPED}
    assert all((folder / "__init__.py").is_file() for folder in folders)


def test_no_file_grows_too_long() -> None:
    long = {
        name_of(path): lines
        for path in [*SHIPPED, *TESTS]
        if (lines := len(path.read_text(encoding="utf-8").splitlines())) > LONGEST_FILE
    }
    assert long == {}


def test_nothing_is_left_for_later() -> None:
    mark = re.compile(r"\b(TODO|FIXME|XXX|HACK|WIP)\b")
    wrong = [
        f"{name_of(path)}: {line.strip()}"
        for path in [*SHIPPED, *TESTS, *PAGES.glob("*.md"), *ROOT.glob("*.md")]
        if path != Path(__file__)
        for line in path.read_text(encoding="utf-8").splitlines()
        if mark.search(line)
    ]
    assert wrong == []


def test_every_module_says_which_question_it_answers() -> None:
    wrong = [name_of(path) for path in SHIPPED if not ast.get_docstring(tree_of(path))]
    assert wrong == []


def test_no_test_is_skipped_and_none_sleeps() -> None:
    banned = {"skip", "skipif", "xfail", "sleep"}
    wrong = [
        f"{name_of(path)}:{node.lineno}"
        for path in TESTS
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Attribute) and node.attr in banned
    ]
    assert wrong == []


def test_nothing_heavy_is_loaded_to_say_the_version() -> None:
    heavy = ("numpy", "manifold3d", "lark", "ezdxf", "asyncio", "importlib.metadata")
    code = (
        "import sys; from dryfit.lang.cli import parser; parser();"
        f"print([name for name in {heavy!r} if name in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-I", "-c", code], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
