"""What the scene tells to be drawn at a finding: shared wood, measures from end to end, the way to
where boards meet."""

from pathlib import Path

import jsonschema
import numpy as np
import pytest
from dryfit.kernel.solids import Bodies, volume
from scenes import SCHEMA, document, shown, shown_text

ROOT = Path(__file__).parents[2]

VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


# -- shared wood ---------------------------------------------------------------------------------


def test_shared_wood_is_a_closed_solid_of_its_volume() -> None:
    inspection, made = shown(ROOT / "examples" / "broken" / "overlap-without-a-join.dry")
    (finding,) = document(made)["findings"]
    (lump,) = finding["lumps"]
    corners = np.array(lump["points"]).reshape(-1, 3)[np.array(lump["triangles"]).reshape(-1, 3)]
    enclosed = np.einsum("ij,ij->", np.cross(corners[:, 0], corners[:, 1]), corners[:, 2]) / 6
    assert inspection.plan is not None
    bodies = Bodies(inspection.plan)
    shared = volume(bodies.true(0) ^ bodies.true(1))
    assert lump["volume"] == pytest.approx(shared, abs=0.01)
    assert enclosed == pytest.approx(shared, rel=0.02)  # drawn a hair inside: see `lumps`
    points = np.array(lump["points"]).reshape(-1, 3)
    assert np.all(points >= np.array(lump["lo"]) - 0.01)
    assert np.all(points <= np.array(lump["hi"]) + 0.01)


def test_wood_left_in_corners_is_shown_lump_by_lump() -> None:
    scene = document(shown(ROOT / "examples" / "broken" / "corners-left-standing.dry")[1])
    (finding,) = scene["findings"]
    assert len(finding["lumps"]) == 4
    assert all(lump["points"] for lump in finding["lumps"])


def test_a_fit_is_marked_from_wall_to_wall_with_its_figure() -> None:
    """As drawn the dado has 0.2 mm of play, half of it on either side; at the yard 0.1 too few."""
    scene = document(shown(ROOT / "examples" / "broken" / "tight-at-the-yard.dry")[1])
    (finding,) = scene["findings"]
    (mark,) = finding["marks"]
    assert (mark["kind"], mark["text"], mark["length_mm"]) == ("gap", "-0.1mm", -0.1)
    assert mark["boards"] == ["shelf", "side"]
    assert (mark["at"][2], mark["to"][2]) == pytest.approx((212, 212.1))
    assert mark["at"][:2] == mark["to"][:2]
    assert mark["along"] == [0, 0, 1]
    assert mark["path"] == []


TIGHT_ONE_WAY = """\
design "Loose along, not across"
stock ply12 { sheet 2440mm by 1220mm, thick 12mm, actual 11mm..12mm, species birch_ply }
bit b6 { straight 6mm, flute 22mm }
board side  of ply12  x 0mm..12mm  y 0mm..200mm    z 0mm..300mm
board shelf of ply12  x 0mm..300mm y 40mm..160mm  z 100mm..112mm
join shelf into side with tenon { fit 0.2mm }
"""


def test_a_fit_is_marked_on_the_axis_that_is_at_fault() -> None:
    """A tenon fits both ways: only its thickness follows the stock, so only there it is loose."""
    scene = document(shown_text(TIGHT_ONE_WAY)[1])
    (mark,) = (mark for finding in scene["findings"] for mark in finding["marks"])
    assert (mark["kind"], mark["text"]) == ("gap", "1.2mm")
    assert mark["along"] in ([0, 0, 1], [0, 0, -1])


APART = """\
design "Two apart"
stock ply12 { sheet 2440mm by 1220mm, thick 12mm, species birch_ply }
board near of ply12  x 0mm..100mm    y 0mm..100mm   z 0mm..12mm
board far  of ply12  x 130mm..230mm  y 140mm..240mm z 0mm..12mm
test "room" { expect clearance(near, far) >= 60mm }
"""


def test_a_clearance_is_marked_from_end_to_end() -> None:
    (finding,) = document(shown_text(APART)[1])["findings"]
    (mark,) = finding["marks"]
    assert (mark["kind"], mark["text"]) == ("measured", "50mm")
    assert mark["at"][:2] == pytest.approx([100, 100])
    assert mark["to"][:2] == pytest.approx([130, 140])
    assert mark["at"][2] == pytest.approx(mark["to"][2])
    assert mark["along"] == [0.6, 0.8, 0]
    assert mark["length_mm"] == 50


STOOLS = """\
design "Two stools"
stock ply12 { sheet 2440mm by 1220mm, thick 12mm, species birch_ply }
assembly stool(d: length) {
  board seat of ply12  x 0mm..300mm  y 0mm..d        z 288mm..300mm
  board leg  of ply12  x 20mm..32mm  y 20mm..d-20mm  z 0mm..288mm
}
place one = stool(d: 200mm) at x 0mm, y 0mm, z 0mm
place two = stool(d: 200mm) at x 340mm, y 0mm, z 0mm
test "room" {
  expect clearance(one, two) >= 60mm
  expect gap(one, two) >= 60mm
  expect overlap(one.seat, one.leg) >= 1mm * 1mm * 1mm
}
"""


def test_measures_of_assemblies_are_marked_on_their_boards() -> None:
    scene = document(shown_text(STOOLS)[1])
    VALIDATOR.validate(scene)
    *lengths, volume = scene["findings"]
    for finding in lengths:
        (mark,) = finding["marks"]
        assert finding["boards"] == mark["boards"] == ["one.seat", "two.seat"]
        assert (mark["at"][0], mark["to"][0]) == (300, 340)
        assert mark["at"][1:] == mark["to"][1:]
    assert volume["marks"] == [], "boards that share no wood have no place to show it"


def test_a_size_is_marked_from_side_to_side() -> None:
    scene = document(shown(ROOT / "examples" / "broken" / "claim-that-fails.dry")[1])
    VALIDATOR.validate(scene)
    (finding,) = scene["findings"]
    (mark,) = finding["marks"]
    assert (mark["text"], mark["length_mm"], mark["along"]) == ("400mm", 400, [1, 0, 0])
    assert (mark["at"], mark["to"]) == ([0, 150, 6], [400, 150, 6])


IN_WOOD = """\
design "Deep"
stock ply12 { sheet 2440mm by 1220mm, thick 12mm, species birch_ply }
board a of ply12  x 0mm..12mm  y 0mm..200mm  z 0mm..300mm
board b of ply12  x 7mm..300mm  y 0mm..200mm  z 100mm..112mm
test "room" {
  expect gap(a, b) >= 0mm
  expect overlap(a, b) <= 10mm * 1mm * 1mm
}
"""


def test_wood_in_wood_is_marked_through_it_and_a_volume_at_a_point() -> None:
    _, deep, volume = document(shown_text(IN_WOOD)[1])["findings"]
    (through,), (point,) = deep["marks"], volume["marks"]
    assert (through["at"][0], through["to"][0]) == pytest.approx((7, 12), abs=1e-3)
    assert (through["along"], through["text"]) == ([1, 0, 0], "-5mm")
    assert (point["to"], point["text"], point["length_mm"]) == (None, "12000mm³", None)


def test_thin_wood_is_marked_through_it() -> None:
    scene = document(shown(ROOT / "examples" / "broken" / "skin-too-thin.dry")[1])
    VALIDATOR.validate(scene)
    (finding,) = scene["findings"]
    (mark,) = finding["marks"]
    assert (mark["kind"], mark["boards"]) == ("measured", ["side"])
    assert (mark["text"], mark["length_mm"]) == ("2mm", 2)
    assert (mark["at"][0], mark["to"][0]) == (2, 0)
    assert mark["along"] == [-1, 0, 0]


TOO_SHORT = """\
design "Too short"
stock ply12 { sheet 2440mm by 1220mm, thick 12mm, species birch_ply }
bit b6 { straight 6mm, flute 22mm }
board side  of ply12  x 0mm..12mm    y 0mm..200mm  z 0mm..400mm
board shelf of ply12  x 15mm..300mm  y 0mm..200mm  z 200mm..212mm
join shelf into side with dado
"""


def test_a_board_that_does_not_reach_is_marked_with_what_is_missing() -> None:
    (finding,) = document(shown_text(TOO_SHORT)[1])["findings"]
    (mark,) = finding["marks"]
    assert (finding["code"], mark["boards"], mark["text"]) == ("J203", ["shelf", "side"], "3mm")
    assert (mark["at"][0], mark["to"][0]) == (15, 12)
    (touching,) = document(shown_text(TOO_SHORT.replace("15mm", "12mm"))[1])["findings"]
    assert (touching["code"], touching["marks"]) == ("J203", [])


HOOK = """\
design "Tool hook"
stock ply12 { thick 12mm }
bit   b6    { straight 6mm, flute 22mm }
board wall of ply12  x 0mm..300mm    y 0mm..12mm    z 0mm..200mm
board hook of ply12  x 120mm..180mm  y -40mm..52mm  z 94mm..106mm  grain y
cut wall from y.hi at x 150mm, z 100mm with hand_hole { long 46mm, wide 14mm }
cut hook from x.lo at y -1mm..13mm with notch { deep 17mm }
cut hook from x.hi at y -1mm..13mm with notch { deep 17mm }
"""


def test_a_barred_way_in_is_marked_with_the_way_to_each_first_contact() -> None:
    scene = document(shown_text(HOOK)[1])
    VALIDATOR.validate(scene)
    (finding,) = scene["findings"]
    assert len(finding["marks"]) == 6
    for mark in finding["marks"]:
        start, end = (np.array(point) for point in mark["path"])
        assert mark["to"] is None
        assert mark["at"] == mark["path"][-1]
        assert end - start == pytest.approx(np.array(mark["along"]) * mark["length_mm"], abs=1e-5)
    up = next(mark for mark in finding["marks"] if mark["along"] == [0, 0, 1])
    assert up["text"] == "1mm"
    assert up["path"][0][2] == pytest.approx(106, abs=0.01), "the top of the hook, at home"
    assert up["at"][2] == pytest.approx(107, abs=0.01), "the top of the hole"


def test_boards_that_lock_are_marked_with_the_rings_that_are_told() -> None:
    page = (ROOT / "lang" / "explain" / "A201.md").read_text("utf-8")
    program = page.split("```dry\n")[1].split("```")[0]
    scene = document(shown_text(program)[1])
    VALIDATOR.validate(scene)
    (finding,) = scene["findings"]
    told = [line for line in finding["text"].splitlines() if "note: along " in line]
    assert len({tuple(mark["along"]) for mark in finding["marks"]}) == len(told) == 3
    for mark in finding["marks"]:
        assert mark["kind"] == "contact"
        assert mark["path"][-1] == mark["at"]


DRAWER = """\
design "Drawer"
stock ply12 { sheet 2440mm by 1220mm, thick 12mm, species birch_ply }
board drawer of ply12  x 0mm..100mm  y 0mm..100mm   z 0mm..12mm
board stop   of ply12  x 0mm..100mm  y -62mm..-50mm z 0mm..80mm
travel drawer along -y for 90mm
"""


def test_a_motion_is_told_with_its_way_and_marked_where_it_is_stopped() -> None:
    scene = document(shown_text(DRAWER)[1])
    (motion,) = scene["motions"]
    assert (motion["kind"], motion["boards"]) == ("travel", ["drawer"])
    assert (motion["axis"], motion["amount"]) == ([0, -1, 0], 90)
    (finding,) = scene["findings"]
    (mark,) = finding["marks"]
    assert finding["boards"] == ["drawer", "stop"]
    assert (mark["kind"], mark["text"]) == ("contact", "50mm")
    assert mark["at"][1] == pytest.approx(-50, abs=0.01)
    home, met = mark["path"]
    assert met == mark["at"]
    assert home == pytest.approx([met[0], 0, met[2]], abs=0.01), "on the drawer's front edge"
    stop = motion["stop"]
    assert (stop["moving"], stop["still"], stop["at"]) == ("drawer", "stop", mark["at"])
    assert stop["path"] == mark["path"]
    assert stop["after"] == pytest.approx(50, abs=0.01)


LID = """\
design "Lid"
stock ply12 { sheet 2440mm by 1220mm, thick 12mm, species birch_ply }
board lid of ply12  x 0mm..100mm  y 0mm..100mm  z 80mm..92mm
swing lid about x at y 100mm, z 92mm by 90deg
"""


def test_a_swing_is_told_with_its_line() -> None:
    (motion,) = document(shown_text(LID)[1])["motions"]
    assert (motion["kind"], motion["axis"], motion["amount"]) == ("swing", [1, 0, 0], 90)
    assert motion["at"][1:] == [100, 92]
    assert motion["stop"] is None


BARRED_LID = LID + "board shelf of ply12  x 0mm..100mm  y 40mm..52mm  z 120mm..180mm\n"


def test_a_swing_that_meets_something_is_marked_with_its_arc() -> None:
    scene = document(shown_text(BARRED_LID.replace("by 90deg", "by -90deg"))[1])
    VALIDATOR.validate(scene)
    (motion,), (finding,) = scene["motions"], scene["findings"]
    (mark,) = finding["marks"]
    assert mark["text"].endswith("°")
    assert mark["along"] is None
    assert mark["path"] == motion["stop"]["path"]
    radii = [np.hypot(y - 100, z - 92) for _, y, z in mark["path"]]
    assert radii == pytest.approx([radii[0]] * len(radii), abs=1e-4)
    assert mark["path"][0][2] == pytest.approx(92, abs=0.01), "the upper face of the lid, shut"
    assert len(mark["path"]) > 3
