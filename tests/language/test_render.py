"""How messages are drawn: each case is a text, its marks and the drawing as it must come out."""

import re
import unicodedata
from dataclasses import replace

import pytest
from dryfit.kernel.finding import Place
from dryfit.kernel.findings import UnknownStock
from dryfit.lang.codes import Severity
from dryfit.lang.messages.words import Edit, Help, Label, Words
from dryfit.lang.render import Message, drawn, messages_of, one_line, pages_of
from hypothesis import given, settings
from hypothesis import strategies as st

SHELF = """\
design "Seed rack"
board shelf of ply12  x t..width-t  y 0..d  z 0..t


join shelf into left with dado
join left to right with box {
  pins 7
  fit 0.1mm
  first part
  relief corner
}
"""


def at(text: str, word: str, nth: int = 0, file: str = "rack.dry") -> Place:
    """The place of the word's occurrence number `nth`."""
    starts = [match.start() for match in re.finditer(re.escape(word), text)]
    return Place(file, starts[nth], starts[nth] + len(word))


def message(place: Place | None, words: Words, severity: Severity = Severity.ERROR) -> Message:
    return Message(code="J203", severity=severity, place=place, words=words)


def draw(text: str, place: Place | None, words: Words, **texts: str) -> str:
    pages = pages_of({"rack.dry": text, **{f"{name}.dry": t for name, t in texts.items()}})
    return drawn(message(place, words), pages)


def same(got: str, want: str) -> None:
    assert got == want.strip("\n")


def test_two_places_on_a_line_and_the_line_that_mends() -> None:
    words = Words(
        title="`shelf` does not reach `left`",
        label="shelf begins at x = 12mm: the two only touch",
        others=(Label(at(SHELF, "left"), "its nearest face is at x = 12mm"),),
        help=(
            Help(
                "let the shelf enter by the depth of the dado",
                Edit(at(SHELF, "t..width-t"), "t-4mm..width-t+4mm"),
            ),
        ),
    )
    same(
        draw(SHELF, at(SHELF, "shelf", 1), words),
        """
error[J203]: `shelf` does not reach `left`
 --> rack.dry:5:6
  |
5 | join shelf into left with dado
  |      ^^^^^      ---- its nearest face is at x = 12mm
  |      shelf begins at x = 12mm: the two only touch
  |
help: let the shelf enter by the depth of the dado
  |
2 | board shelf of ply12  x t-4mm..width-t+4mm  y 0..d  z 0..t
""",
    )


def test_many_labels_hang_below_their_marks_and_none_collide() -> None:
    words = Words(
        title="four",
        label="one",
        others=(
            Label(at(SHELF, "into"), "two"),
            Label(at(SHELF, "left"), "three"),
            Label(at(SHELF, "join shelf into left"), "the whole"),
            Label(at(SHELF, "dado"), ""),
            Label(at(SHELF, "design"), "far away"),
        ),
        notes=("a note\nof two lines",),
    )
    same(
        draw(SHELF, at(SHELF, "shelf", 1), words),
        """
error[J203]: four
 --> rack.dry:5:6
  |
1 | design "Seed rack"
  | ------ far away
… |
5 | join shelf into left with dado
  | -----^^^^^----------      ----
  | |    |     |    three
  | |    |     two
  | |    one
  | the whole
  |
note: a note
      of two lines
""",
    )


def test_a_line_between_two_marked_ones_is_shown() -> None:
    words = Words(title="t", label="here", others=(Label(at(SHELF, "fit"), "there"),))
    same(
        draw(SHELF, at(SHELF, "box"), words),
        """
error[J203]: t
 --> rack.dry:6:25
  |
6 | join left to right with box {
  |                         ^^^ here
7 |   pins 7
8 |   fit 0.1mm
  |   --- there
""",
    )


def test_a_place_of_few_lines_is_underlined_whole() -> None:
    place = Place("rack.dry", SHELF.index("pins"), SHELF.index("first"))
    same(
        draw(SHELF, place, Words(title="t", label="these")),
        """
error[J203]: t
 --> rack.dry:7:3
  |
7 |   pins 7
  |   ^^^^^^
8 |   fit 0.1mm
  |   ^^^^^^^^^ these
""",
    )


def test_a_place_of_many_lines_is_underlined_at_its_ends() -> None:
    place = Place("rack.dry", SHELF.index("join left"), len(SHELF))
    same(
        draw(SHELF, place, Words(title="t", label="all of this")),
        """
error[J203]: t
  --> rack.dry:6:1
   |
 6 | join left to right with box {
   | ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
 … |
11 | }
   | ^ all of this
""",
    )


def test_each_file_has_its_own_part() -> None:
    used = "let t = 12mm\n"
    words = Words(title="t", others=(Label(at(used, "t", 1, "sizes.dry"), "from here"),))
    same(
        draw(SHELF, at(SHELF, "shelf"), words, sizes=used),
        """
error[J203]: t
 --> rack.dry:2:7
  |
2 | board shelf of ply12  x t..width-t  y 0..d  z 0..t
  |       ^^^^^
 --> sizes.dry:1:5
  |
1 | let t = 12mm
  |     - from here
""",
    )


def test_a_finding_without_a_place_is_words_alone() -> None:
    words = Words(title="no param is called `widht`", notes=("n",), help=(Help("try `width`"),))
    same(
        draw(SHELF, None, words),
        """
error[J203]: no param is called `widht`
note: n
help: try `width`
""",
    )


def test_a_place_in_a_text_that_is_not_at_hand_names_the_file() -> None:
    place = Place("gone.dry", 5, 7)
    same(draw(SHELF, place, Words(title="t")), "error[J203]: t\n --> gone.dry")


@pytest.mark.parametrize("text", ["", "\n", "board x", "board x\n", "a\r\nb\r\n", "a\rb"])
def test_the_end_of_a_text_can_be_pointed_at(text: str) -> None:
    end = Place("rack.dry", len(text), len(text))
    assert drawn(
        message(end, Words(title="t", label="more was expected")),
        pages_of(
            {
                "rack.dry": text,
            }
        ),
    ).endswith("^ more was expected")


def test_help_shows_lines_put_in_and_lines_taken_out() -> None:
    line = "join shelf into left with dado\n"
    start = SHELF.index(line)
    words = Words(
        title="t",
        help=(
            Help("take it out", Edit(at(SHELF, line), "")),
            Help("say more", Edit(Place("rack.dry", start, start), "join a to b\njoin c to d\n")),
            Help("at the end", Edit(Place("rack.dry", len(SHELF), len(SHELF)), "join a to b\n")),
            Help("after it", Edit(Place("rack.dry", start + 30, start + 30), "\njoin e to f")),
            Help("rename", Edit(at(SHELF, line), "join shelf into right\n")),
        ),
    )
    same(
        draw(SHELF, None, words),
        """
error[J203]: t
help: take it out
   |
 5 - join shelf into left with dado
help: say more
   |
 5 | join a to b
 6 | join c to d
help: at the end
   |
12 | join a to b
help: after it
   |
 6 | join e to f
help: rename
   |
 5 | join shelf into right
""",
    )


def test_a_long_line_is_clipped_round_each_place() -> None:
    text = "x" * 5000 + " shelf " + "y" * 300 + " left " + "z" * 10**6
    words = Words(title="t", label="here", others=(Label(at(text, "left"), "there"),))
    got = draw(text, at(text, "shelf"), words).split("\n")
    assert got[1] == " --> rack.dry:1:5002"
    assert got[3].startswith("1 | …" + "x" * 19 + " shelf yyy")
    assert got[4] == "  | " + " " * 21 + "^^^^^ here"
    assert got[5].startswith("1 | …" + "y" * 19 + " left zzz")
    assert got[6] == "  | " + " " * 21 + "---- there"
    assert all(len(line) <= 104 for line in got)
    assert all(line.endswith("…") for line in (got[3], got[5]))


def test_a_long_mended_line_is_clipped_round_the_change() -> None:
    text = "a" * 400 + " old " + "b" * 400
    words = Words(title="t", help=(Help("h", Edit(at(text, "old"), "new")),))
    assert draw(text, None, words).split("\n")[3].startswith("1 | …" + "a" * 19 + " new bbb")


def test_marks_stand_under_wide_accented_tabbed_and_unseen_characters() -> None:
    text = "\tlet 幅 = e\u0301 + \u200b\x00\x7f\ttail\ufeff"
    words = Words(title="t", label="here", others=(Label(at(text, "幅"), "wide"),))
    same(
        draw(text, at(text, "tail"), words),
        """
error[J203]: t
 --> rack.dry:1:19
  |
1 |     let 幅 = é + <U+200B>␀␡ tail<U+FEFF>
  |         --                  ^^^^ here
  |         wide
""".replace("é", "e\u0301"),
    )


def test_text_cannot_steer_the_terminal_or_reorder_what_stands_beside_it() -> None:
    nasty = "\x1b[31m \u202e\u2066 \u2028 \x9b0m \ud800 \u0301 a\u0301\u0301\u0301\u0301"
    text = f"board {nasty} x"
    got = draw(text, at(text, "x"), Words(title=f"bad {nasty}", label=nasty, notes=(nasty,)))
    for char in got.replace("\n", ""):
        assert unicodedata.category(char) not in ("Cc", "Cf", "Cs", "Zl", "Zp")
    assert got.count("<U+202E>") == 4


def test_file_names_are_made_safe_too() -> None:
    place = Place("a\x1b[2Jb\udc80.dry", 0, 1)
    pages = pages_of({place.file: "x"})
    assert one_line(message(place, Words(title="t")), pages) == (
        "a␛[2Jb<U+DC80>.dry:1:1: error[J203]: t"
    )


def test_findings_of_one_kind_at_one_place_are_one_message() -> None:
    place = at(SHELF, "box")
    found = tuple(
        UnknownStock(place=place, board=f"b{i}", stock=f"s{i}", nearest=None, known=())
        for i in (1, 1, 2, 3, 4, 5)
    )
    elsewhere = replace(found[0], place=at(SHELF, "dado"))
    nowhere = tuple(replace(each, place=None) for each in found[:2])
    first, *rest = messages_of((*found, elsewhere, *nowhere))
    assert [len(message.also) for message in (first, *rest)] == [4, 0, 0, 0]
    assert drawn(first, pages_of({"rack.dry": SHELF})).count("note: also, ") == 3
    assert "and 1 more of the kind" in drawn(first, pages_of({"rack.dry": SHELF}))


def test_one_line_form() -> None:
    pages = pages_of({"rack.dry": SHELF})
    words = Words(title="two\nlines", label="l")
    warned = message(at(SHELF, "shelf", 1), words, Severity.WARNING)
    assert one_line(warned, pages) == "rack.dry:5:6: warning[J203]: two lines"
    assert one_line(message(None, words), pages, "rack.dry") == "rack.dry: error[J203]: two lines"
    assert one_line(message(None, words), pages) == "error[J203]: two lines"


def test_colour_adds_escape_codes_and_nothing_else() -> None:
    words = Words(
        title="t",
        label="l",
        others=(Label(at(SHELF, "left"), "o"),),
        notes=("n",),
        help=(Help("h", Edit(at(SHELF, "dado"), "groove")),),
    )
    said = message(at(SHELF, "shelf", 1), words)
    pages = pages_of({"rack.dry": SHELF})
    plain, coloured = drawn(said, pages), drawn(said, pages, colour=True)
    assert "\x1b" not in plain
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == plain
    assert coloured.startswith("\x1b[1;31merror[J203]\x1b[0m")
    assert "\x1b[1;32mgroove\x1b[0m" in coloured


ANY_TEXT = st.text(max_size=80) | st.text(alphabet="a \t\n\r\u0301幅ש\u202e\x00", max_size=300)


@settings(max_examples=150, deadline=None)
@given(ANY_TEXT, st.data())
def test_any_text_and_any_places_are_drawn_with_every_row_under_its_line(
    text: str, data: st.DataObject
) -> None:
    offset = st.integers(0, len(text) + 3)
    places = [Place("rack.dry", *sorted((data.draw(offset), data.draw(offset)))) for _ in range(3)]
    words = Words(
        title=text,
        label=text,
        others=(Label(places[1], text[:9]), Label(places[2], "there")),
        help=(Help(text, Edit(places[1], text[:40])),),
    )
    got = draw(text, places[0], words)
    for row in got.split("\n"):
        assert "\r" not in row
        assert "\x1b" not in row
        assert row == row.rstrip(" ")
    marked = [row for row in got.split("\n") if "^" in row and row.lstrip().startswith("|")]
    assert marked
