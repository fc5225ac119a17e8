"""Which files can a design reach? Its own folder and the library that ships, and nothing else."""

from collections.abc import Mapping
from pathlib import Path, PurePosixPath

import pytest
from dryfit.kernel.faults import Fault
from dryfit.lang import load
from dryfit.lang.files import ENDING, DiskFiles, Escape, MemoryFiles, Tree, wanted
from dryfit.lang.findings import FileTooLarge
from dryfit.lang.limits import Limits
from dryfit.lang.name_findings import UseCycle, UseNotFound, UseRefused
from dryfit.lang.pipeline import Reading, design_from
from hypothesis import given
from hypothesis import strategies as st

STOCK = "stock ply12 { thick 12mm }\n"
BOARD = "board b of ply12  x 0..300mm  y 0..200mm  z 0..12mm\n"


def read_disk(folder: Path, files: Mapping[str, str], main: str = "piece.dry") -> Reading:
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    library = Tree(str(folder / "library"), "library")
    return design_from(str(folder / main), DiskFiles(library=library))


def read(files: Mapping[str, str], library: Tree | None = None) -> Reading:
    return design_from("piece.dry", MemoryFiles(files, library))


def escapes(reading: Reading) -> list[Escape]:
    return [finding.why for finding in reading.findings if isinstance(finding, UseRefused)]


@pytest.mark.parametrize(
    ("path", "by", "found"),
    [
        ("rail.dry", "piece.dry", "rail.dry"),
        ("parts/rail.dry", "piece.dry", "parts/rail.dry"),
        ("./parts//rail.dry", "piece.dry", "parts/rail.dry"),
        ("parts/../rail.dry", "piece.dry", "rail.dry"),
        ("../rail.dry", "parts/drawer.dry", "rail.dry"),
        ("", "piece.dry", Escape.EMPTY),
        ("  ", "piece.dry", Escape.EMPTY),
        ("/etc/rail.dry", "piece.dry", Escape.ABSOLUTE),
        ("//host/rail.dry", "piece.dry", Escape.ABSOLUTE),
        ("..\\rail.dry", "piece.dry", Escape.BACKSLASH),
        ("C:rail.dry", "piece.dry", Escape.UNFIT),
        ("rail.dry:hidden.dry", "piece.dry", Escape.UNFIT),
        ("~/rail.dry", "piece.dry", Escape.UNFIT),
        ("rail\n.dry", "piece.dry", Escape.UNFIT),
        ("rail\0.dry", "piece.dry", Escape.UNFIT),
        ("..", "piece.dry", Escape.CLIMBS),
        ("../rail.dry", "piece.dry", Escape.CLIMBS),
        ("parts/../../rail.dry", "piece.dry", Escape.CLIMBS),
        ("../../rail.dry", "parts/drawer.dry", Escape.CLIMBS),
        ("../other/../../rail.dry", "parts/drawer.dry", Escape.CLIMBS),
        (".", "piece.dry", Escape.ENDING),
        ("parts", "piece.dry", Escape.ENDING),
        ("rail.dry/", "piece.dry", "rail.dry"),
        ("passwd", "piece.dry", Escape.ENDING),
    ],
)
def test_where_a_path_leads(path: str, by: str, found: str | Escape) -> None:
    assert wanted(path, by) == found


@given(
    st.lists(st.sampled_from(["..", ".", "a", "b", "", "...", "~", "/", "c.dry"]), max_size=8),
    st.sampled_from(["piece.dry", "a/piece.dry", "a/b/piece.dry"]),
)
def test_no_path_leads_out(parts: list[str], by: str) -> None:
    found = wanted("/".join(parts), by)
    if isinstance(found, str):
        steps = PurePosixPath(found).parts
        assert ".." not in steps
        assert not found.startswith("/")
        assert found.endswith(ENDING)


def test_files_are_found_from_the_folder_of_the_file_that_uses_them(tmp_path: Path) -> None:
    reading = read_disk(
        tmp_path,
        {
            "piece.dry": 'use "parts/tray.dry"\nplace t = tray(w: 300mm)\n',
            "parts/tray.dry": 'use "../stocks.dry"\nassembly tray(w: length) {\n'
            "  board base of ply12  x 0..w  y 0..200mm  z 0..12mm\n}\n",
            "stocks.dry": STOCK,
        },
    )
    assert reading.findings == ()
    assert reading.value is not None
    assert [board.name for board in reading.value.boards] == ["t.base"]
    names = [Path(source.name).name for source in reading.sources]
    assert names == ["piece.dry", "tray.dry", "stocks.dry"]


def test_the_library_is_looked_in_second(tmp_path: Path) -> None:
    files = {
        "piece.dry": 'use "stocks.dry"\nuse "bits.dry"\n' + BOARD,
        "stocks.dry": STOCK,
        "library/stocks.dry": "stock wrong { thick 1mm }\n",
        "library/bits.dry": 'use "more/bits.dry"\n',
        "library/more/bits.dry": "bit b6 { straight 6mm }\n",
    }
    reading = read_disk(tmp_path, files)
    assert reading.findings == ()
    assert reading.value is not None
    assert [bit.name for bit in reading.value.bits] == ["b6"]
    assert [source.name for source in reading.sources[2:]] == [
        "library/bits.dry",
        "library/more/bits.dry",
    ]


def test_the_library_does_not_reach_into_designs() -> None:
    files = {"piece.dry": 'use "lent.dry"\n', "lib/lent.dry": 'use "own.dry"\n', "own.dry": STOCK}
    reading = read(files, Tree("lib", "library"))
    assert [type(finding) for finding in reading.findings] == [UseNotFound]


@pytest.mark.parametrize("link", ["inner.dry", "folder"])
def test_links_that_lead_out_are_refused(tmp_path: Path, link: str) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "secret.dry").write_text(STOCK, encoding="utf-8")
    own = tmp_path / "own"
    own.mkdir()
    if link == "folder":
        (own / "folder").symlink_to(outside, target_is_directory=True)
        path = "folder/secret.dry"
    else:
        (own / "inner.dry").symlink_to(outside / "secret.dry")
        path = "inner.dry"
    reading = read_disk(own, {"piece.dry": f'use "{path}"\n{BOARD}'})
    assert escapes(reading) == [Escape.LINK]
    assert len(reading.findings) == 1
    assert len(reading.sources) == 1


def test_a_folder_with_a_longer_name_is_not_inside(tmp_path: Path) -> None:
    (tmp_path / "own2").mkdir()
    (tmp_path / "own2" / "secret.dry").write_text(STOCK, encoding="utf-8")
    (tmp_path / "own").mkdir()
    (tmp_path / "own" / "link.dry").symlink_to(tmp_path / "own2" / "secret.dry")
    reading = read_disk(tmp_path / "own", {"piece.dry": f'use "link.dry"\n{BOARD}'})
    assert escapes(reading) == [Escape.LINK]


def test_links_inside_the_folder_are_followed_and_seen_through(tmp_path: Path) -> None:
    (tmp_path / "again.dry").symlink_to(tmp_path / "piece.dry")
    reading = read_disk(tmp_path, {"piece.dry": f'use "again.dry"\n{STOCK}'})
    assert [type(finding) for finding in reading.findings] == [UseCycle]


def test_a_ring_of_links_is_not_there(tmp_path: Path) -> None:
    (tmp_path / "a.dry").symlink_to(tmp_path / "b.dry")
    (tmp_path / "b.dry").symlink_to(tmp_path / "a.dry")
    reading = read_disk(tmp_path, {"piece.dry": 'use "a.dry"\n'})
    assert [type(finding) for finding in reading.findings] == [UseNotFound]


def test_what_is_no_plain_file_is_not_there(tmp_path: Path) -> None:
    (tmp_path / "folder.dry").mkdir()
    long = "n" * 300
    reading = read_disk(tmp_path, {"piece.dry": f'use "folder.dry"\nuse "{long}.dry"\n'})
    assert [type(finding) for finding in reading.findings] == [UseNotFound, UseNotFound]


def test_a_design_may_itself_be_reached_by_a_link(tmp_path: Path) -> None:
    (tmp_path / "far").mkdir()
    (tmp_path / "far" / "real.dry").write_text(STOCK, encoding="utf-8")
    (tmp_path / "piece.dry").symlink_to(tmp_path / "far" / "real.dry")
    outcome = load(tmp_path / "piece.dry")
    assert outcome.findings == ()
    assert outcome.value is not None


def test_a_design_that_is_not_there_is_a_fault(tmp_path: Path) -> None:
    for name in (str(tmp_path / "gone.dry"), str(tmp_path), "piece\0.dry"):
        with pytest.raises(Fault, match="cannot read"):
            design_from(name, DiskFiles())
    with pytest.raises(Fault, match="cannot read"):
        read({})


def test_a_near_name_is_suggested_with_its_folder() -> None:
    reading = read({"piece.dry": 'use "parts/trya.dry"\n', "parts/tray.dry": STOCK})
    (finding,) = reading.findings
    assert isinstance(finding, UseNotFound)
    assert finding.nearest == "parts/tray.dry"


def test_cycles_name_the_files_on_the_way() -> None:
    files = {
        "piece.dry": 'use "a.dry"\n',
        "a.dry": 'use "b.dry"\n',
        "b.dry": 'use "./a.dry"\n',
    }
    (finding,) = read(files).findings
    assert isinstance(finding, UseCycle)
    assert finding.chain == ("a.dry", "b.dry", "a.dry")


def test_a_file_used_by_two_is_worked_out_once() -> None:
    files = {
        "piece.dry": 'use "a.dry"\nuse "b.dry"\nuse "stocks.dry"\n' + BOARD,
        "a.dry": 'use "stocks.dry"\nlet a = ply12.thick\n',
        "b.dry": 'use "stocks.dry"\nlet b = ply12.thick\n',
        "stocks.dry": STOCK,
    }
    reading = read(files)
    assert reading.findings == ()
    assert len(reading.sources) == 4


def test_names_that_a_used_file_uses_are_not_lent_on() -> None:
    files = {
        "piece.dry": 'use "a.dry"\n' + BOARD,
        "a.dry": 'use "stocks.dry"\nlet a = ply12.thick\n',
        "stocks.dry": STOCK,
    }
    assert [finding.code for finding in read(files).findings] == ["N105"]


def test_a_used_file_that_is_no_text_is_told_once() -> None:
    files: dict[str, str | bytes] = {
        "piece.dry": 'use "blob.dry"\n' + BOARD,
        "blob.dry": b"\xff\xfe\x00\x01",
    }
    reading = design_from("piece.dry", MemoryFiles(files))
    assert [finding.code for finding in reading.findings] == ["S001"]


def test_a_large_file_is_not_read_whole(tmp_path: Path) -> None:
    limits = Limits(file_size=100)
    (tmp_path / "piece.dry").write_text('use "large.dry"\n', encoding="utf-8")
    (tmp_path / "large.dry").write_text("#" * 5000, encoding="utf-8")
    for name in ("piece.dry", "large.dry"):
        reading = design_from(str(tmp_path / name), DiskFiles(), limits=limits)
        (finding,) = reading.findings
        assert isinstance(finding, FileTooLarge)
        assert (finding.size, finding.most) == (5000, 100)
    assert reading.value is None
