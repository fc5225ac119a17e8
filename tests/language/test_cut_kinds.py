"""Is every kind of cut explained with a line that holds as it stands?"""

from typing import Any

import pytest
from dryfit.kernel.shaping import shapings
from dryfit.kernel.shaping.family import ShapingFamily
from looking import Asked, drawing, look

BOARDS = """
stock ply18 { sheet 2440mm by 1220mm, thick 18mm }
bit   b5    { straight 5mm, flute 22mm }
board A of ply18  x 0mm..18mm    y 0mm..240mm  z 0mm..500mm
board B of ply18  x 18mm..380mm  y 0mm..240mm  z 100mm..118mm
"""


@pytest.mark.parametrize("family", shapings(), ids=lambda family: family.name)
def test_the_line_that_shows_a_kind_checks_clean(family: ShapingFamily[Any]) -> None:
    assert f" with {family.name}" in family.written
    files = {"shown.dry": f"{BOARDS}{family.written}\n".encode()}
    got = look(Asked(name="shown.dry", files=files, settings={}, limits={}))
    assert got.findings == (), drawing(got)
