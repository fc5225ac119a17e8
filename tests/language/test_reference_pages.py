"""The pages of the reference: every joint and cut has one, and it tells what the kernel does."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from dryfit.kernel.besides import besides
from dryfit.kernel.cuts import Work
from dryfit.kernel.faults import InternalError
from dryfit.kernel.joints import families
from dryfit.kernel.joints.family import Family
from dryfit.kernel.plan import CutPlan
from dryfit.kernel.shaping import shapings
from dryfit.kernel.shaping.family import ShapingFamily
from dryfit.kernel.wallpath import changes, stops
from dryfit.lang.cli import main
from dryfit.lang.codes import CODES
from dryfit.lang.commands.explain import CUTS, JOINTS, page_of_cut, page_of_joint
from dryfit.lang.pages import WIDEST, Bullets, Page, Section, Table, as_html, as_markdown, as_text
from dryfit.lang.prose import read_prose
from looking import Asked, drawing, look

Kind = Family[Any] | ShapingFamily[Any]
KINDS: tuple[Kind, ...] = (*families(), *shapings())
FOLDERS = {Family: JOINTS, ShapingFamily: CUTS}


def named(kind: Kind) -> str:
    return f"cut {kind.name}" if isinstance(kind, ShapingFamily) else kind.name


every_kind = pytest.mark.parametrize("kind", KINDS, ids=named)


@cache
def page(kind: Kind) -> Page:
    return page_of_cut(kind) if isinstance(kind, ShapingFamily) else page_of_joint(kind)


@cache
def plan(path: Path) -> CutPlan:
    """The plan of a program that checks clean."""
    asked = Asked(name=path.name, files={path.name: path.read_bytes()}, settings={}, limits={})
    got = look(asked)
    assert got.findings == (), drawing(got)
    assert got.plan is not None
    return got.plan


def section(kind: Kind, title: str) -> Section | None:
    return next((s for s in page(kind).sections if s.title == title), None)


def table(kind: Kind, title: str) -> tuple[tuple[str, ...], ...]:
    found = section(kind, title)
    parts = () if found is None else found.parts
    return next((part.rows for part in parts if isinstance(part, Table)), ())


def folder(kind: Kind) -> Path:
    return FOLDERS[type(kind)]


# -- every joint and cut has one ------------------------------------------------------------------


@pytest.mark.parametrize(("where", "kinds"), [(JOINTS, families()), (CUTS, shapings())])
def test_every_page_is_of_a_joint_or_cut_and_every_one_has_its_page(
    where: Path, kinds: tuple[Kind, ...]
) -> None:
    names = {kind.name for kind in kinds}
    assert {path.stem for path in where.glob("*.md")} == names
    assert {path.stem for path in where.glob("*.dry")} >= names


@pytest.mark.parametrize(
    "path",
    sorted([*JOINTS.rglob("*.dry"), *CUTS.rglob("*.dry")]),
    ids=lambda path: path.relative_to(JOINTS.parent).as_posix(),
)
def test_every_program_of_a_page_checks_clean(path: Path) -> None:
    assert plan(path).boards


@every_kind
def test_the_program_shows_the_kind_it_stands_for(kind: Kind) -> None:
    made = plan(folder(kind) / f"{kind.name}.dry")
    shown = made.joints[0].join if isinstance(kind, Family) else made.shaped[0].shaping
    assert shown.family == kind.name
    other = folder(kind) / "reliefs" / f"{kind.name}.dry"
    if other.exists():
        assert plan(other).joints[0].join.family == kind.name


def test_a_page_that_keeps_not_to_its_form_is_our_fault() -> None:
    for text in ("", "# A\n\nFor.\n", "# A\n\n## Limits\n\n- a\n\n## Not for\n\n- b\n"):
        with pytest.raises(InternalError, match="page of a"):
            read_prose(text, "a")


# -- what we say in our own words -----------------------------------------------------------------


@every_kind
def test_our_words_name_only_what_there_is(kind: Kind) -> None:
    """The title is the kernel's, every word in ticks a joint, a cut, an option or its value."""
    text = (folder(kind) / f"{kind.name}.md").read_text(encoding="utf-8")
    prose = read_prose(text, kind.name)
    assert prose.title.lower() == kind.title.lower()
    assert prose.limits
    assert prose.not_for
    assert bool(prose.strengths) is isinstance(kind, Family)
    known = {other.name for other in KINDS}
    known |= {option.name for option in kind.options} | {"relief", "half_round"}
    assert {word for quoted in re.findall(r"`([^`]+)`", text) for word in quoted.split()} <= known


def test_area_is_never_praised_alone() -> None:
    """Wherever a page speaks of glue area as a strength, it says that area is not strength."""
    for kind in families():
        prose = read_prose((JOINTS / f"{kind.name}.md").read_text("utf-8"), kind.name)
        if any("glue area" in item or "area of a" in item for item in prose.strengths):
            whole = " ".join((*prose.strengths, *prose.limits))
            assert re.search(r"[Aa]rea is not strength|third of the shear", whole), kind.name


# -- what is worked out ---------------------------------------------------------------------------


@every_kind
def test_the_options_are_those_of_the_kernel(kind: Kind) -> None:
    told = [(row[0], row[2], row[3]) for row in table(kind, "How it is written")]
    assert told == [(o.name, o.shown, o.words) for o in kind.options]


@every_kind
def test_sides_depths_and_bits_are_those_of_the_cuts(kind: Kind) -> None:
    """Every cut of the smallest program is in a row, and the rows count all of them."""
    made = plan(folder(kind) / f"{kind.name}.dry")
    told: dict[tuple[str, str, str], int] = {}
    for board, where, cuts, _, bit in table(kind, "How it is cut there"):
        key = (board, where.split()[-1], bit)
        told[key] = told.get(key, 0) + int(cuts.split()[0])
    real: dict[tuple[str, str, str], int] = {}
    for one in made.boards:
        for cut in one.cuts:
            key = (one.board.name, str(cut.side), cut.bit)
            real[key] = real.get(key, 0) + 1
    assert told == real
    depths = {row[3].split()[0] for row in table(kind, "How it is cut there")}
    for one in made.boards:
        for cut in one.cuts:
            full = float(one.board.box[cut.side.axis].size)
            if cut.depth is not None and cut.depth < full:
                assert f"{cut.depth:g}mm" in depths


@every_kind
def test_work_by_hand_is_told_as_it_is(kind: Kind) -> None:
    made = plan(folder(kind) / f"{kind.name}.dry")
    by_hand = [cut for one in made.boards for cut in one.cuts if cut.by_hand]
    found = section(kind, "Work by hand")
    items = [p.items for p in found.parts if isinstance(p, Bullets)] if found else []
    words = " ".join(item for lines in items for item in lines)
    assert bool(words) is bool(by_hand)
    assert {cut.bit for cut in by_hand} == set(re.findall(r"with `([^`]+)`", words))
    places = sum(int(n) for n in re.findall(r"at (\d+) place", words))
    assert places == len(by_hand)
    rounded = sum(cut.work is Work.ROUND for cut in by_hand)
    assert ("round over" in words) is bool(rounded)


@pytest.mark.parametrize("kind", families(), ids=named)
def test_fits_are_asked_and_measured_alike(kind: Family[Any]) -> None:
    """As cut within 0.01 mm of what was asked, and one row for each pair and axis."""
    joint = plan(JOINTS / f"{kind.name}.dry").joints[0]
    rows = table(kind, "How it fits")
    assert {row[0] for row in rows} == {f"{m.part} in {m.socket}" for m in joint.matings}
    for _, _, asked, as_cut in rows:
        assert float(as_cut.removesuffix("mm")) == pytest.approx(
            float(asked.removesuffix("mm")), abs=0.01
        )


@pytest.mark.parametrize("kind", families(), ids=named)
def test_what_is_needed_besides_boards_is_listed(kind: Family[Any]) -> None:
    wanted = {piece.words for piece in besides(plan(JOINTS / f"{kind.name}.dry"))}
    text = as_text(page(kind))
    assert all(f"- {words}: " in text for words in wanted)
    assert ("\nBesides boards\n" in text) is bool(wanted)


@every_kind
def test_every_code_told_is_in_the_table(kind: Kind) -> None:
    summaries = {entry.code: entry.summary for entry in CODES if not entry.is_retired}
    rows = table(kind, "What is checked")
    assert rows
    assert all(summaries[code] == words for code, words in rows)


def test_a_step_joint_is_held_against_a_mitre() -> None:
    """w (2t - t/2n) against w t sqrt 2, with w 180, t 18, n 3: 5940 and 4582 mm2, 1.30 times."""
    step = next(kind for kind in families() if kind.name == "step")
    text = " ".join(as_text(page(step)).split())
    assert "5940 mm2" in text
    assert "meets on 4582 mm2: here it is 1.3 times as much" in text


def test_where_grains_cross_the_page_says_so() -> None:
    def told(name: str) -> bool:
        kind = next(kind for kind in families() if kind.name == name)
        return "The grains cross" in as_text(page(kind))

    assert told("lap")
    assert told("box")
    assert not told("tongue")  # boards side by side
    assert not told("mitre")  # nothing but ends meets


def test_a_puzzle_never_stops_the_bit_as_its_page_says() -> None:
    prose = read_prose((JOINTS / "puzzle.md").read_text("utf-8"), "puzzle")
    assert any("nowhere has the bit to stop" in item for item in prose.strengths)
    for one in plan(JOINTS / "puzzle.dry").boards:
        for cut in one.cuts:
            u, v = (one.board.box[axis] for axis in cut.side.plane)
            limits = (float(u.lo), float(v.lo), float(u.hi), float(v.hi))
            found = changes(cut.region, limits, 3.0)
            assert found
            assert stops(found) == 0


# -- how it looks ---------------------------------------------------------------------------------


@every_kind
def test_the_text_is_calm(kind: Kind) -> None:
    text = as_text(page(kind))
    lines = text.splitlines()
    assert max(map(len, lines)) <= WIDEST + 2
    assert all(line == line.rstrip() for line in lines)
    assert "\n\n\n" not in text
    assert text.endswith("\n")


@every_kind
def test_all_three_forms_tell_the_same_words(kind: Kind) -> None:
    plain, markdown, html = (form(page(kind)) for form in (as_text, as_markdown, as_html))
    for part in page(kind).sections:
        assert f"\n{part.title}\n" in plain or not part.title
        assert f"\n## {part.title}\n" in markdown or not part.title
        assert f"<h2>{part.title}</h2>" in html or not part.title
    if isinstance(kind, Family):
        for how in ("closed", "apart"):
            assert f"({kind.name}-{how}.svg)" in markdown
            assert f'src="{kind.name}-{how}.svg"' in html


def test_words_of_a_page_are_text() -> None:
    hostile = Page("<b>", (Section("a|b", (Table(("<i>",), (("x | `<u>`",),)),)),))
    html = as_html(hostile)
    assert not re.search(r"<[biu]>", html)
    assert "x \\| `<u>`" in as_markdown(hostile)


def test_explain_prints_the_page(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "dado"]) == 0
    dado = next(kind for kind in families() if kind.name == "dado")
    assert capsys.readouterr().out == as_text(page(dado))
    assert main(["explain", "dado", "--format", "markdown"]) == 0
    assert capsys.readouterr().out == as_markdown(page(dado))
