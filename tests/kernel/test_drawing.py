"""A part's page: views apart from each other, captions true, nothing over the margins."""

from dryfit.kernel.export.captions import note_caption, operation_caption
from dryfit.kernel.export.drawing import GAP, drawing, full_circle
from dryfit.kernel.profile import Profile, board_profile
from dryfit.kernel.region import bounds, disc, rectangle
from flat_boards import BITS, MINUS_X, PLUS_X, busy_side, cut, plan_of


def profile() -> Profile:
    return board_profile(busy_side(), BITS)


def test_views_stay_apart_though_pockets_run_past_the_blank() -> None:
    along = rectangle(-1, 200, 241, 212)
    work = plan_of(cut(PLUS_X, along, 4.0), cut(MINUS_X, along, 3.0))
    page = drawing(board_profile(work, BITS))
    boxes = {layer.name: bounds(layer.patches[0].region) for layer in page.layers if layer.patches}
    assert boxes["POCKET_Z4.0"][1] == -4
    assert boxes["FACE_B_POCKET_Z3.0"][3] == -4 - GAP
    assert page.face_b_drop == 240 + GAP + 8
    assert boxes["FACE_B_OUTLINE"] == (0, -page.face_b_drop, 520, 240 - page.face_b_drop)


def test_a_board_worked_from_one_face_has_one_view() -> None:
    page = drawing(board_profile(plan_of(cut(PLUS_X, rectangle(9, 9, 20, 20), 4.0)), BITS))
    assert [layer.name for layer in page.layers] == ["CUT_OUTER", "POCKET_Z4.0", "LABEL"]
    assert page.face_b_drop is None


def test_captions_say_what_is_drawn_and_what_is_not() -> None:
    found = profile()
    assert [operation_caption(o) for o in found.operations] == [
        "CUT_OUTER: the outline, right through, bit b6, for side-top; foot",
        "CUT_INNER: openings, right through, bit b6, for vent",
        "POCKET_Z4.0: 4 mm deep from face A, bit b6, for side-shelf",
        "POCKET_Z5.0: 5 mm deep from face A, bit b6, for side-back",
        "FACE_B_POCKET_Z3.0: 3 mm deep from face B, bit b6, for plug",
        "FACE_B_POCKET_Z6.35: 6.35 mm deep from face B, bit b6, for pull",
    ]
    assert [note_caption(note) for note in found.notes] == [
        "Not drawn: 1 pocket with b6 from the upper edge, 15 mm deep, x 250..300, y 225..240, "
        "3..9 below face A, for rail",
        "By hand: 4 roundovers with r3 from the right end, 12 mm deep, x 508..520, "
        "y 99.857..205.714, 9..12 below face A, for side-top",
    ]


def test_the_label_reads_along_the_grain_and_fits_the_blank() -> None:
    for name in ("a", "a very long name for a very small part indeed"):
        page = drawing(board_profile(plan_of(name=name), BITS))
        label = page.layers[-1]
        assert label.words[0].text == name
        assert all(0 < s.start[0] < 520 and 0 < s.start[1] < 240 for s in label.strokes)
        assert label.strokes[0].start[1] == label.strokes[0].end[1]


def test_only_one_whole_turn_round_one_centre_is_a_circle() -> None:
    assert full_circle(disc((3, 4), 5).loops[0]) == ((3, 4), 5)
    assert full_circle(rectangle(0, 0, 1, 1).loops[0]) is None
    half = disc((0, 0), 5).loops[0][:1]
    assert full_circle(half) is None


def test_the_label_keeps_clear_of_cuts_where_there_is_room() -> None:
    """A mortise in the middle of the board, seen from both faces: the label goes beside it."""
    mortise = cut(PLUS_X, rectangle(100, 240, 140, 280), None)
    inside = cut(PLUS_X, rectangle(200, 400, 230, 500), 3.0)
    outside = cut(MINUS_X, rectangle(20, 20, 40, 40), 3.0)
    page = drawing(board_profile(plan_of(mortise, inside, outside), BITS))
    labels = {layer.name: layer for layer in page.layers if layer.words}
    for name, middle in (("LABEL", 120.0), ("FACE_B_LABEL", 120.0 - (page.face_b_drop or 0))):
        x0 = min(s.start[0] for s in labels[name].strokes)
        x1 = max(s.end[0] for s in labels[name].strokes)
        y = labels[name].strokes[0].start[1]
        assert x1 < 240 or x0 > 280 or abs(y - middle) > 20


def test_long_captions_go_on_below_and_not_past_the_page() -> None:
    joints = [f"rail[{n}] into side with tenon [rail[{n}], side]" for n in range(8)]
    cuts = [cut(PLUS_X, rectangle(9, 9, 20, 20), 4.0, joint=joint) for joint in joints]
    page = drawing(board_profile(plan_of(*cuts), BITS))
    captions = page.layers[-1].words[1:]
    assert all(len(words.text) * 0.62 * words.height < 520 for words in captions)
    assert len({words.at[1] for words in captions}) == len(captions)
    assert all(joint in " ".join(words.text for words in captions) for joint in joints)
