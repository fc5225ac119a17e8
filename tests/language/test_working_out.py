"""How a design is worked out: what is said, what is left unsaid, and what it costs."""

import sys
from collections.abc import Callable
from dataclasses import replace
from difflib import SequenceMatcher
from types import FrameType

import pytest
from dryfit.kernel.finding import Finding
from dryfit.lang.codes import CODES, finding_class
from dryfit.lang.files import MemoryFiles
from dryfit.lang.limits import DEFAULT, Limits
from dryfit.lang.messages import words
from dryfit.lang.name_findings import NeedsIndex, UnknownName
from dryfit.lang.pipeline import Reading, design_from
from dryfit.lang.run import WORK_DEPTH
from dryfit.lang.value_findings import UnknownUnit

HEAD = "stock ply12 { thick 12mm }\nlet t = ply12.thick\n"


def read(text: str, limits: Limits = DEFAULT) -> Reading:
    return design_from("piece.dry", MemoryFiles({"piece.dry": text}), limits=limits)


def codes(text: str, limits: Limits = DEFAULT) -> list[str]:
    return [finding.code for finding in read(text, limits).findings]


LINES = (
    "stock ply12 { thick 12mm }",
    "bit b6 { straight 6mm, flute 22mm }",
    "param width = 300mm",
    "let t = ply12.thick",
    "fn half(a) = a/2",
    "assembly tray(w: length) {\n  board base of ply12  x 0..w  y 0..20mm  z 0..t\n}",
    "board left of ply12  x 0..t  y 0..9cm  z 0..width",
    "place seeds = tray(w: half(width)) at z 2m",
    "board top of ply12  x 0..half(width)  y 0..9cm  z width-t..width",
    "join left to top with box { pins 3, bit b6 }",
    'test "sizes" {\n  expect length(left) == width\n  expect volume(seeds.base) > 0\n}',
)
"""A design in which everything declared is used."""


@pytest.mark.parametrize(
    "broken",
    [
        "stock ply12 { thick 12mm",
        "stock ply12 { thick 12mn }",
        "stock ply12 { thick 0mm }",
        "bit b6 { straight }",
        "bit b6 { straight 6mm; flute 22mm }",
        "param width = ",
        "param widht = 300mm",
        "param = 300mm",
        "width = 300mm",
        "ply12 { thick 12mm }",
        "fn haff(a) = a/2",
        "assembly trya(w: length) {\n  board base of ply12  x 0..w  y 0..20mm  z 0..t\n}",
        "assembly tray(w: length) {\n  board of ply12  x 0..w  y 0..20mm  z 0..t\n}",
        "stock { thick 12mm }",
        "param width = 300mm within 400mm..500mm",
        "let t = ply12..thick",
        "let t = ply12.thikc",
        "let t ply12.thick",
        "fn half(a) = = a",
        "fn half(a) = b/2",
        "assembly tray(w: ) {\n  board base of ply12  x 0..w  y 0..20mm  z 0..t\n}",
        "board left of ply12  x 0..t  y 0..9cm  z 0..widht",
        "board left of ply12  x 0..t  y 0..9cm",
        "place seeds = tray(w: half(width) at z 2m",
        "place seeds = tray(w: half(widht)) at z 2m",
        "join left to top with box { pins 3, bit b6",
        "join left to top with box { pins 3mn, bit b6 }",
        "join left to topp with box { pins 3, bit b6 }",
    ],
)
def test_one_slip_gives_one_message(broken: str) -> None:
    """What the slip was to declare is used further on, and nothing is said there."""
    at = max(range(len(LINES)), key=lambda n: SequenceMatcher(a=LINES[n], b=broken).ratio())
    text = "\n".join((*LINES[:at], broken, *LINES[at + 1 :]))
    assert codes("\n".join(LINES)) == []
    assert len(codes(text)) == 1, codes(text)


def test_a_missing_name_is_told_once_at_its_first_place() -> None:
    text = (
        HEAD
        + "join nobody to nobody with butt\n"
        + "assembly tray() {\n  let c = nobody\n}\n"
        + "board b of ply12  x 0..nobody  y 0..nobody  z 0..t\nlet d = nobody + nobody.thick\n"
    )
    (finding,) = read(text).findings
    assert isinstance(finding, UnknownName)
    assert finding.place is not None
    assert text[: finding.place.start].endswith("join ")
    assert finding.elsewhere == 6
    assert words(finding).notes == ("`nobody` is used in 6 more places",)


def test_mistakes_in_what_is_never_done_are_found() -> None:
    text = (
        HEAD
        + "fn lonely(a) = a + nobody\n"
        + "assembly spare(w: length) {\n  board b of ply12  x 0..nothing  y 0..w  z 0..t\n"
        + "  assembly inner() { let c = none }\n}\n"
    )
    assert codes(text) == ["N101", "N101", "N101"]


def test_what_is_gone_through_for_mistakes_leaves_nothing_behind() -> None:
    text = (
        HEAD
        + "assembly spare(w: length) {\n  board b of ply12  x 0..1mm  y 0..2mm  z 0..t\n"
        + "  board c of ply12  x 0..1mm  y 0..2mm  z 0..t\n  join b to c with butt\n}\n"
        + "if nobody { board d of ply12  x 0..1mm  y 0..2mm  z 0..t } else {\n"
        + "  board d of ply12  x 0..1mm  y 0..2mm  z 0..t\n}\n"
        + "for i in nothing { board e[i] of ply12  x 0..1mm  y 0..2mm  z 0..t }\n"
        + "join d to e with butt\n"
    )
    reading = read(text)
    assert [finding.code for finding in reading.findings] == ["N101", "N101"]
    assert reading.value is not None
    assert reading.value.boards == ()
    assert reading.value.joins == ()


def test_an_assembly_that_puts_itself_down_may_come_to_an_end() -> None:
    text = (
        HEAD
        + "assembly steps(n: count) {\n  board tread of ply12  x 0..1mm  y 0..2mm  z 0..t\n"
        + "  if n > 1 { place next = steps(n: n - 1) at z 20mm }\n}\nplace stair = steps(n: 5)\n"
    )
    reading = read(text)
    assert reading.findings == ()
    assert reading.value is not None
    assert reading.value.boards[4].name == "stair.next.next.next.next.tread"
    assert len(reading.value.boards[4].pose) == 4


def test_deep_designs_do_not_reach_the_end_of_the_stack() -> None:
    nest = "[" * 50 + "1" + "]" * 50
    text = (
        HEAD
        + "fn f(n) = if n < 1 then 1 else [[[[[[max(f(n - 1), 0)]]]]]][1][1][1][1][1][1]\n"
        + "assembly a(n: count) {\n"
        + "".join(f"{'  ' * d}if n > 0 {{\n" for d in range(30))
        + f"let v = f(99) + {nest}[1]\nplace b = a(n: n + 1)\n"
        + "}\n" * 30
        + "}\nplace c = a(n: 1)\n"
    )
    found = codes(text)
    assert found == ["L209"]


def test_the_stack_has_room_for_the_depth_that_is_worked_out() -> None:
    """Four of Python's calls a level, as `run.py` says, and as many again for whoever calls us."""
    deepest = 0

    def watch(frame: FrameType, event: str, _: object) -> None:
        nonlocal deepest
        if event == "call":
            depth, caller = 0, frame.f_back
            while caller is not None:
                depth, caller = depth + 1, caller.f_back
            deepest = max(deepest, depth)

    text = "fn f(n) = if n < 1 then 1 else max(0, min(f(n - 1), 9))\nlet a = f(99)\n"
    sys.setprofile(watch)
    try:
        found = codes(text)
    finally:
        sys.setprofile(None)
    assert found == ["L209"]
    assert WORK_DEPTH < deepest < 700


@pytest.mark.parametrize(
    "text",
    [
        "fn f(n) = f(n - 1) + f(n - 1)\nlet a = f(9)\n",
        "fn f(n) = [f(n - 1), f(n - 1)]\nlet a = f(9)\n",
        "fn f(a, n) = if n < 1 then a else f([a, a], n - 1)\nlet a = f(1mm, 35)\n",
        HEAD + "assembly a() {\n  place b = a()\n  place c = a()\n}\nplace d = a()\n",
        "for i in 1..100 { for j in 1..100 { for k in 1..100 { let x = i } } }\n",
        "for i in -99999999999..9 { let x = i }\n",
        "fn f(a, n) = if n < 1 then a else f(a*a, n - 1)\nlet x = f(1/3, 35)\n",
    ],
)
def test_endless_work_is_cut_short(text: str) -> None:
    limits = replace(DEFAULT, evaluations=20_000)
    assert len(codes(text, limits)) == 1, codes(text, limits)


def calls_made(work: Callable[[], object]) -> int:
    """How many calls of functions some work takes: a cost that no other load sways."""
    count = 0

    def note(_frame: FrameType, event: str, _argument: object) -> None:
        nonlocal count
        count += event == "call"

    sys.setprofile(note)
    try:
        work()
    finally:
        sys.setprofile(None)
    return count


LOOP = HEAD + (
    "for i in 1..NN {\n  board s[i] of ply12  x 0..300mm  y 0..200mm  z i*20mm..+t\n"
    "  join s[i] to s[1] with butt\n}\nlet all = len(s)\n"
)
PLACES = HEAD + (
    "assembly a(w: length) {\n  board b of ply12  x 0..w  y 0..2mm  z 0..t\n"
    "  join b to b with butt as c\n}\n"
    'for i in 1..NN { place p[i] = a(w: i*1mm) }\ntest "t" {\n'
    "  for i in 1..NN { expect length(p[i].b) == i*1mm }\n}\n"
)


@pytest.mark.parametrize("text", [LOOP, PLACES], ids=["loop", "places"])
def test_the_cost_grows_no_faster_than_the_boards(text: str) -> None:
    few = calls_made(lambda: read(text.replace("NN", "100")))
    many = calls_made(lambda: read(text.replace("NN", "1000")))
    assert many < 10.5 * few


def test_a_name_missing_in_many_places_costs_no_more_than_its_places() -> None:
    text = HEAD + "for i in 1..NN { let a = nobodi }\nlet nobody = 3mm\n"
    few = calls_made(lambda: read(text.replace("NN", "100")))
    many = calls_made(lambda: read(text.replace("NN", "1000")))
    assert many < 10.5 * few


def test_every_finding_of_names_values_and_limits_has_words() -> None:
    """Even one without a place, and without what is optional."""
    for entry in CODES:
        if entry.code[0] in "NU" or entry.code.startswith("L2"):
            assert issubclass(finding_class(entry), Finding)
            assert finding_class(entry).code == entry.code


def test_words_stand_without_a_place() -> None:
    for finding in (
        UnknownName(name="a", nearest="b"),
        NeedsIndex(name="a", variable="i"),
        UnknownUnit(unit="mn", nearest="mm"),
    ):
        assert words(finding).title
        assert all(help_.edit is None for help_ in words(finding).help)
