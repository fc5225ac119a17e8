"""Mends offered for tongues and tenons: applying the edit clears the finding."""

import pytest
from dryfit.lang.messages import words
from looking import Asked, look

HEAD = """design "Potting bench"
stock oak18 { lumber, widest 200mm, thick 18mm }
stock oak40 { lumber, widest 300mm, thick 40mm }
bit b6 { straight 6mm, flute 42mm }
bit d8 { drill 8mm, flute 65mm }
bit r3 { roundover 3mm, by hand }
"""
CORNER = """board side of oak18 x 0mm..18mm  y 0mm..200mm z 0mm..305mm
board top  of oak18 x 0mm..400mm y 0mm..200mm z 300mm..318mm
"""
FRAME = """board post of oak40 x 0mm..40mm   y 0mm..60mm  z 0mm..400mm  grain z
board rail of oak18 x 10mm..300mm y 21mm..39mm z 200mm..270mm
"""
BENCH = """board seat of oak40 x 0mm..400mm  y 0mm..280mm   z 360mm..400mm
board leg of oak18 x 40mm..100mm y 90mm..108mm z 0mm..410mm turned 8deg about y at x 70mm, z 360mm
"""
EDITS = [
    ("J281", CORNER + "join side into top with tongue { thick 9mm }\n"),
    ("J284", BENCH + "join leg into seat with tenon { edges 8mm, relief half_round r3 }\n"),
    ("J284", BENCH + "join leg into seat with tenon { edges 8mm, root fillet }\n"),
    ("J285", FRAME + "join rail into post with tenon { edges [0mm, 20mm], haunch 35mm }\n"),
    ("J288", FRAME + "join rail into post with pegged_tenon { edges 8mm, draw 3mm }\n"),
    ("J221", FRAME + "join rail into post with tenon { cheeks 9mm }\n"),
    ("J226", FRAME + "join rail into post with tenon { thick 24mm }\n"),
    ("J226", FRAME + "join rail into post with tenon { width 75mm }\n"),
]


def asked(text: str) -> Asked:
    return Asked(name="a.dry", files={"a.dry": text.encode()}, settings={}, limits={})


@pytest.mark.parametrize(("code", "lines"), EDITS)
def test_the_edit_offered_clears_its_finding(code: str, lines: str) -> None:
    text = HEAD + lines
    (told,) = look(asked(text)).findings
    assert told.code == code
    (edit,) = (help_.edit for help_ in words(told).help if help_.edit is not None)
    mended = text[: edit.place.start] + edit.text + text[edit.place.end :]
    assert look(asked(mended)).findings == ()
