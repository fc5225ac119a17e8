"""A check with what was kept of the one before finds what a check from the start finds."""

import re
from pathlib import Path

import pytest
from dryfit.kernel.kept import LOOKS, Kept, Table
from dryfit.kernel.solids import Bodies
from dryfit.lang.files import DiskFiles
from dryfit.lang.inspection import Request, inspected, planned

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.dry"))
LENGTH = re.compile(r"\b(\d+(?:\.\d+)?)mm\b")


def edits(text: str, most: int) -> list[str]:
    """The text with one line changed, at so many lines spread over it."""
    lines = text.splitlines(keepends=True)
    able = [i for i, line in enumerate(lines) if LENGTH.search(line.split("#")[0])]
    made = []
    for i in able[:: max(1, len(able) // most)]:
        edited = LENGTH.sub(lambda m: f"{float(m[1]) + 0.25:.2f}mm", lines[i], count=1)
        made.append("".join((*lines[:i], edited, *lines[i + 1 :])))
    return made


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_what_is_kept_changes_nothing_that_is_found(path: Path, tmp_path: Path) -> None:
    file, kept = tmp_path / path.name, Kept()
    text = path.read_text("utf-8")
    for one in (text, *edits(text, 4), text):
        file.write_text(one, "utf-8")
        request = Request(file=str(file))
        warm, cold = inspected(request, DiskFiles(), kept=kept), inspected(request, DiskFiles())
        assert warm.findings == cold.findings
        assert warm.plan == cold.plan


def test_joints_are_known_again_when_their_lines_or_their_boards_have_moved(tmp_path: Path) -> None:
    """A line above is made longer, the tray is put elsewhere: nothing is cut again, and every cut
    tells of its new line."""
    file, kept = tmp_path / "tray.dry", Kept()
    cut: list[int] = []
    for note, x in (("", 0), ("# for the seedlings\n", 0), ("", 40)):
        file.write_text(note + TRAY.format(x=x), "utf-8")
        request = Request(file=str(file))
        warm, cold = planned(request, DiskFiles(), kept=kept), planned(request, DiskFiles())
        assert (warm.plan, warm.findings) == (cold.plan, cold.findings)
        assert warm.plan is not None
        cut.append(len(kept.table("joints", 0)))
    assert cut == [2, 2, 2]


TRAY = """design "Tray"
stock ply12 {{ thick 12mm }}
bit   b6    {{ straight 6mm, flute 22mm }}
assembly tray {{
  board side of ply12  x 0mm..12mm    y 0mm..200mm  z 0mm..80mm
  board end  of ply12  x 0mm..150mm   y 0mm..12mm   z 0mm..80mm
  board base of ply12  x 6mm..150mm   y 6mm..200mm  z 10mm..22mm
  join side to end with box {{ pins 5 }}
  join base into side with groove {{ fit 0.2mm }}
}}
place one = tray() at x {x}mm, y 0mm, z 0mm
"""


def test_a_joint_known_from_a_board_alike_is_the_one_that_would_be_cut(tmp_path: Path) -> None:
    """Two trays in one design, the second once alone with the first line only a remark."""
    file = tmp_path / "trays.dry"
    plans = []
    for begins in ("place one", "# no first"):
        file.write_text(TRAY.format(x=0).replace("place one", begins) + SECOND, "utf-8")
        plan = planned(Request(file=str(file)), DiskFiles()).plan
        assert plan is not None
        plans.append(plan)
    both, alone = plans
    assert len(both.boards) == 2 * len(alone.boards) == 6
    assert both.boards[3:] == alone.boards
    assert both.joints[2:] == alone.joints


SECOND = "place two = tray() at x 0mm, y 300mm, z 0mm\n"


def test_what_is_kept_of_a_fault_moves_with_the_piece(tmp_path: Path) -> None:
    """Contacts and plays are kept for shapes that lie alike, and told where the piece stands."""
    file, kept = tmp_path / "hook.dry", Kept()
    told = []
    for x in (0, 25, 0):
        file.write_text(HOOK.format(wall=x, far=x + 300, hook=x + 120, end=x + 180), "utf-8")
        request = Request(file=str(file))
        warm = inspected(request, DiskFiles(), kept=kept).findings
        assert warm == inspected(request, DiskFiles()).findings
        assert {finding.code for finding in warm} == {"A101", "T101"}
        told.append(warm)
    assert told[0] == told[2] != told[1]


HOOK = """design "Tool hook"
stock ply12 {{ thick 12mm }}
bit   b6    {{ straight 6mm, flute 22mm }}
board wall of ply12  x {wall}mm..{far}mm    y 0mm..12mm    z 0mm..200mm
board hook of ply12  x {hook}mm..{end}mm  y -40mm..52mm  z 94mm..106mm  grain y
cut wall from y.hi at x {wall}mm+150mm, z 100mm with hand_hole {{ long 46mm, wide 14mm }}
cut hook from x.lo at y -1mm..13mm with notch {{ deep 17mm }}
cut hook from x.hi at y -1mm..13mm with notch {{ deep 17mm }}
test "room" {{
  expect clearance(hook, wall) >= 3mm
  expect gap(hook, wall) >= 3mm
}}
"""


def test_a_second_look_makes_no_solid_and_a_third_makes_those_that_changed(tmp_path: Path) -> None:
    file, kept = tmp_path / "shelf.dry", Kept()
    made = []
    for long in (300, 300, 310):
        file.write_text(SHELF.format(long=long), "utf-8")
        plan = planned(Request(file=str(file)), DiskFiles()).plan
        assert plan is not None
        kept.turn()
        bodies = Bodies(plan, kept=kept)
        assert not any(bodies.meet(i, j) for i, j in ((0, 1), (0, 2), (1, 2)))
        made.append(bodies.made)
    assert made == [3, 0, 1], "only the longer shelf is new"


SHELF = """design "Shelf"
stock ply12 {{ thick 12mm }}
bit   b6    {{ straight 6mm, flute 22mm }}
board left  of ply12  x 0mm..12mm  y 0mm..200mm  z 0mm..300mm
board shelf of ply12  x 8mm..{long}mm  y 0mm..200mm  z 100mm..112mm
board aside of ply12  x 1000mm..1012mm  y 0mm..200mm  z 0mm..300mm
board low   of ply12  x 1008mm..1300mm  y 0mm..200mm  z 100mm..112mm
join shelf into left with dado
join low into aside with dado
"""


def test_what_no_look_asks_for_any_more_is_forgotten() -> None:
    kept = Kept()
    table: Table[tuple[int, str], int] = kept.table("answers")
    first, second = kept.number("first"), kept.number("second")
    table[first, "a"], table[second, "a"] = 1, 2
    for _ in range(LOOKS + 1):
        kept.turn()
        assert kept.number("first") == first
    assert dict(table) == {(first, "a"): 1}
    assert kept.number("second") not in (first, second), "numbers are never given twice"


def test_a_table_does_not_grow_for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("dryfit.kernel.kept.MOST_KEPT", 10)
    kept = Kept()
    table: Table[tuple[int, int], int] = kept.table("answers")
    for pose in range(11):
        table[kept.number("board"), pose] = pose
    kept.turn()
    assert list(table.values()) == [5, 6, 7, 8, 9, 10]
