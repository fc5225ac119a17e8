"""The still picture: what its SVG holds, and that no hidden line is drawn."""

import re
from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest
from dryfit.kernel.picture import picture
from dryfit.kernel.still.grain import Figure, figure_of, inside
from dryfit.kernel.still.paper import along_width, view
from dryfit.kernel.still.pathdata import along
from dryfit.kernel.still.scalebar import scale_bar
from dryfit.kernel.still.strokes import strokes, without
from handmade import OAK, PLY, bench_plan, board_plan, plan_of

SVG = "{http://www.w3.org/2000/svg}"


def parsed(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)  # noqa: S314  our own output


def boards_drawn(svg: str) -> list[str]:
    root = parsed(svg)
    return [g.attrib["data-board"] for g in root.iter(f"{SVG}g") if "data-board" in g.attrib]


def test_the_picture_is_small_and_has_every_board_in_sight() -> None:
    svg = picture(bench_plan())
    assert len(svg) < 40_000
    assert boards_drawn(svg) == ["left", "right", "shelf", "rail"]
    assert parsed(svg).find(f"{SVG}title").text == "Bench"  # type: ignore[union-attr]


def test_a_board_wholly_behind_others_is_not_drawn() -> None:
    door = board_plan("door", PLY, ((0, 400), (0, 12), (0, 500)))
    side = board_plan("side", PLY, ((388, 400), (12, 300), (0, 500)))
    top = board_plan("top", PLY, ((0, 400), (0, 300), (500, 512)))
    inner = board_plan("inner", PLY, ((40, 300), (100, 280), (480, 492)))
    assert boards_drawn(picture(plan_of("Chest", inner, door, side, top))) == [
        "door",
        "side",
        "top",
    ]
    assert "inner" in boards_drawn(picture(plan_of("Chest", inner, door, side)))


def test_no_line_is_drawn_where_a_board_hides_it() -> None:
    """A lone box shows 9 of its 12 edges: three are hidden. One stroke each, the outline apart."""
    svg = picture(plan_of("Box", board_plan("box", OAK, ((0, 200), (0, 100), (0, 20)))))
    thin = next(
        path.attrib["d"]
        for path in parsed(svg).iter(f"{SVG}path")
        if path.attrib.get("stroke-width") == "0.95"
    )
    # nine edges are nine straight runs, however they are strung together
    assert len(re.findall(r"[lhv]", thin)) == 9


def test_the_figure_fits_its_paper() -> None:
    for width, height in ((300.0, 900.0), (900.0, 300.0)):
        root = parsed(picture(bench_plan(), width=width, height=height))
        wide, tall = float(root.attrib["width"]), float(root.attrib["height"])
        assert wide <= width + 1
        assert tall <= height + 1
        assert wide > width - 2 or tall > height - 2


def test_boards_moved_apart_leave_room() -> None:
    closed = parsed(picture(bench_plan(), width=2000, height=2000))
    opened = parsed(picture(bench_plan(), width=2000, height=2000, apart=0.5))
    assert closed.attrib["viewBox"] != opened.attrib["viewBox"]
    assert boards_drawn(picture(bench_plan(), apart=0.5)) == ["left", "right", "shelf", "rail"]


def test_hostile_names_are_only_text() -> None:
    name = '"><script>alert(1)</script>\x00&\ud800'
    svg = picture(plan_of(name, board_plan(name, PLY, ((0, 50), (0, 40), (0, 12)))))
    assert svg.encode("utf-8")
    root = parsed(svg)
    assert boards_drawn(svg) == ['"><script>alert(1)</script>\ufffd&\ufffd']
    assert [e.tag for e in root.iter() if "script" in e.tag] == []


def test_a_design_without_boards_is_an_empty_picture() -> None:
    assert boards_drawn(picture(plan_of("Nothing"))) == []


def test_nothing_is_painted_behind_the_piece() -> None:
    assert "<rect" not in picture(bench_plan())


def test_width_and_height_have_one_scale_and_depth_two_thirds() -> None:
    turn = view()
    assert turn @ turn.T == pytest.approx(np.eye(3), abs=1e-12)
    width, depth, height = np.linalg.norm(turn[:2], axis=0)
    assert width == pytest.approx(along_width())
    assert height == pytest.approx(along_width())
    assert depth == pytest.approx(along_width() * 2 / 3)
    # the viewer stands in front (towards -y), to the right and above
    assert turn[2, 0] > 0 > turn[2, 1]
    assert turn[2, 2] > 0


def test_the_scale_bar_is_true_in_both_units() -> None:
    bar = "".join(scale_bar(10.0, 50.0, 0.8, 700.0, "depth"))
    ticks = {
        height: [float(x) for x in re.findall(rf"M([\d.]+) 50v{height}", bar)]
        for height in ("-5", "5")
    }
    assert ticks["-5"] == pytest.approx([10 + 50 * k * 0.8 for k in range(len(ticks["-5"]))])
    assert ticks["5"] == pytest.approx(
        [10 + 50.8 * k * 0.8 for k in range(len(ticks["5"]))], abs=0.01
    )
    assert ">200</text>" in bar
    assert ">mm</text>" in bar
    assert ">8</text>" in bar
    assert ">in</text>" in bar


def test_strokes_draw_a_shared_line_once() -> None:
    segments = np.array([(0, 0, 10, 0), (10, 0, 4, 0), (8, 0, 20, 0), (20, 0, 20, 5), (0, 3, 5, 3)])
    lines = strokes(segments.astype(float))
    assert sorted(sorted(line) for line in lines) == [
        [(0.0, 0.0), (20.0, 0.0), (20.0, 5.0)],
        [(0.0, 3.0), (5.0, 3.0)],
    ]


def test_strokes_leave_out_points_on_the_way_and_keep_a_round_round() -> None:
    angles = np.linspace(0, np.pi, 200)
    points = np.stack([40 * np.cos(angles), 40 * np.sin(angles)], axis=1)
    (line,) = strokes(np.concatenate([points[:-1], points[1:]], axis=1))
    assert 12 < len(line) < 120
    middles = (np.array(line[:-1]) + np.array(line[1:])) / 2
    assert np.abs(np.hypot(middles[:, 0], middles[:, 1]) - 40).max() < 0.15


def test_erased_stretches_are_not_drawn() -> None:
    left = without(
        np.array([(0.0, 0, 10, 0)]), np.array([(3.0, 0, 5, 0), (4, 0, 6, 0), (0, 1, 9, 1)])
    )
    assert left == pytest.approx(np.array([(0, 0, 3, 0), (6, 0, 10, 0)]))


def test_lines_are_kept_within_loops_and_out_of_holes() -> None:
    outer = np.array([(0, 0), (10, 0), (10, 10), (0, 10)], dtype=float)
    hole = np.array([(4, 4), (4, 6), (6, 6), (6, 4)], dtype=float)
    pieces = inside(np.array([(-5.0, 5.0), (15.0, 5.0)]), (outer, hole))
    assert [piece.tolist() for piece in pieces] == [
        [[pytest.approx(0), 5], [pytest.approx(4), 5]],
        [[pytest.approx(6), 5], [pytest.approx(10), 5]],
    ]


def test_path_data_count_from_the_last_rounded_point() -> None:
    assert along(np.array([(1, 2), (1, 2.504), (0.5, 2.504), (0.25, 2.129)])) == (
        "M1 2v.5h-.5l-.25-.37"
    )


def test_figures_follow_the_words_of_the_stock() -> None:
    assert figure_of(PLY) is Figure.PLIES
    assert figure_of(OAK) is Figure.SOLID
    assert figure_of(replace(PLY, name="mdf12", species=None)) is Figure.PLAIN
    assert figure_of(replace(PLY, name="panel", species="birch_ply")) is Figure.PLIES
