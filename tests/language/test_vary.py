"""What the texts of `--vary` ask for, and what is said of those that ask for nothing."""

import re
from fractions import Fraction

import pytest
from dryfit.kernel.faults import Fault
from dryfit.lang.commands.vary import family_of
from dryfit.lang.family import written
from hypothesis import given
from hypothesis import strategies as st


def values(text: str) -> list[str]:
    family = family_of([text], {})
    return [family.settings(i)[text.partition("=")[0].strip()] for i in range(family.size)]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("w=300mm..450mm/50mm", "300mm 350mm 400mm 450mm"),
        ("w=300mm..440mm/50mm", "300mm 350mm 400mm"),
        ("rows=1..4", "1 2 3 4"),
        ("rows=1..8/3", "1 4 7"),
        (" w = 2mm .. 3mm / 0.25mm ", "2mm 2.25mm 2.5mm 2.75mm 3mm"),
        ("w=1/2in..1-1/4in/3/8in", "0.5in 0.875in 1.25in"),
        ("w=0..3/4in/1/4in", "0in 0.25in 0.5in 0.75in"),
        ("w=-5mm..5mm/5mm", "-5mm 0mm 5mm"),
        ("w=1in..40mm/1/10in", "1in 1.1in 1.2in 1.3in 1.4in 1.5in"),
        ("v=600mm/min..1200mm/min/300mm/min", "600mm/min 900mm/min 1200mm/min"),
        ("a=0deg..90deg/45deg", "0deg 45deg 90deg"),
        ("w=7mm..7mm/1mm", "7mm"),
        ("kind=3", "3"),
        ("kind=1,2,5", "1 2 5"),
        ("wide=true,false", "true false"),
    ],
)
def test_values(text: str, found: str) -> None:
    assert values(text) == found.split(" ")


def test_values_that_hold_commas_stay_whole() -> None:
    assert values('title="a, b","c..d"') == ['"a, b"', '"c..d"']
    assert values("sizes=[1mm, 2mm], max(3mm, 4mm)") == ["[1mm, 2mm]", "max(3mm, 4mm)"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("width", "takes NAME=VALUES"),
        ("width=", "takes NAME=VALUES"),
        ("=1..3", "takes NAME=VALUES"),
        ("kind=1,,2", "empty place"),
        ("width=3mm..1mm/1mm", "runs backwards: `3mm..1mm`"),
        ("rows=8..1", "runs backwards"),
        ("width=1mm..3mm/0mm", "step of --vary width must be more than 0"),
        ("width=1mm..3mm/-1mm", "must be more than 0"),
        ("width=1mm..3mm", "needs a step"),
        ("width=1mm..3", "mixes length and count"),
        ("width=2mm..7/2mm", "needs a step"),
        ("width=1mm..3mm/1", "mixes length and count"),
        ("width=1mm..3mm/1deg", "mixes length and angle"),
        ("width=1mn..3mm/1mm", "`mn` in `1mn` is no unit: is `mm` meant?"),
        ("width=a..b", "takes numbers"),
        ("width=1..", "takes numbers"),
        ("width=1/0in..3in/1in", "takes numbers"),
        ("rows=1..9999999999", "10000000 is the most"),
        (f"rows=1..{'9' * 5000}", "takes numbers"),
    ],
)
def test_what_asks_for_no_family(text: str, said: str) -> None:
    with pytest.raises(Fault, match=re.escape(said)):
        family_of([text], {})


def test_a_param_is_given_once() -> None:
    with pytest.raises(Fault, match="gives `a` twice"):
        family_of(["a=1..2", "a=3"], {})
    with pytest.raises(Fault, match="both set and varied"):
        family_of(["a=1..2"], {"a": "4"})


def test_the_last_named_changes_fastest() -> None:
    family = family_of(["a=1..2", "b=x,y,z"], {})
    told = ["".join(family.settings(i).values()) for i in range(family.size)]
    assert told == ["1x", "1y", "1z", "2x", "2y", "2z"]


@given(st.fractions(max_denominator=10_000))
def test_numbers_are_written_exactly(number: Fraction) -> None:
    over, _, under = written(number, "").partition(" / ")
    assert Fraction(over) / Fraction(under or 1) == number
