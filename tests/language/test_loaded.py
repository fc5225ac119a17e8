"""From Python the same figures and claims as from a design's own tests, on every example."""

from pathlib import Path

import pytest
from dryfit.kernel import measure
from dryfit.kernel.expect import Claim, Compare, Measure, Within
from dryfit.lang import load
from dryfit.lang.loaded import Piece

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.dry"))
MEASURES = Path(__file__).parent / "measures.dry"


@pytest.fixture(scope="module")
def shelf() -> Piece:
    return load(MEASURES).piece


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_claim_and_figure_of_an_example_can_be_asked_for(path: Path) -> None:
    piece = load(path).piece
    assert piece.messages == ()
    for test in piece.design.tests:
        for expectation in test.expectations:
            match expectation:
                case Claim(words, _, subjects):
                    assert piece.holds(words, *subjects)
                case Compare(_, Measure(name, subjects)) | Within(Measure(name, subjects)):
                    assert piece.measure(name, *subjects) >= 0


def test_a_figure_is_the_kernels(shelf: Piece) -> None:
    assert shelf.measure("volume", "side") == measure.volume(shelf.bodies, "side")
    assert shelf.measure("gap", "rail", "side") == pytest.approx(308)
    assert shelf.measure("glue_area", "shelf_dado") == pytest.approx(1600)


def test_claims_hold_or_do_not(shelf: Piece) -> None:
    assert shelf.holds("assembles")
    assert shelf.holds("fits", "shelf", "bench")
    assert not shelf.holds("fits", "shelf", "small")
    assert shelf.holds("travels", "rail")
    assert not shelf.holds("travels", "side")
    assert not load(MEASURES.with_name("locked.dry")).piece.holds("assembles")


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (("volume", "shlef"), "there is nothing called `shlef` to measure"),
        (("weight", "shelf"), "`weight` cannot be measured or claimed"),
        (("fit", "rail", "side"), "no joint fits `rail` into `side`"),
    ],
)
def test_what_cannot_be_measured_says_why(shelf: Piece, asked: tuple[str, ...], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        shelf.measure(*asked)


def test_what_is_no_claim_and_what_is_no_design_say_so(shelf: Piece, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="`stands by itself` cannot be"):
        shelf.holds("stands by itself")
    with pytest.raises(ValueError, match="there is nothing called `sied`"):
        shelf.holds("fits", "sied", "bench")
    binary = tmp_path / "binary.dry"
    binary.write_bytes(b"\0\0")
    with pytest.raises(ValueError, match="the file is no text"):
        _ = load(binary).piece
