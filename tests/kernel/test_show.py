"""The printed middle form: complete, exact, aligned, and blind to places."""

from collections.abc import Iterator
from dataclasses import fields, replace
from enum import Enum
from fractions import Fraction
from typing import Any

from dryfit.kernel.board import Axis, Board, Box, Shift, Span, Turn
from dryfit.kernel.cutter import Bit, BitKind, Machine
from dryfit.kernel.design import (
    Along,
    BoardRef,
    Design,
    Join,
    Option,
    Several,
    Shaping,
    Spots,
    Verb,
    Word,
)
from dryfit.kernel.expect import (
    Arithmetic,
    Claim,
    Compare,
    Given,
    Measure,
    Op,
    Relation,
    Test,
    Within,
)
from dryfit.kernel.finding import Place
from dryfit.kernel.quantity import AREA, LENGTH, Dimension, Quantity
from dryfit.kernel.show import design_text, exact, quantity_text
from dryfit.kernel.stock import Stock

F = Fraction


def length(number: F | int) -> Quantity:
    return Quantity(F(number), LENGTH)


def box(*ends: F | int) -> Box:
    x, y, z = (Span(F(ends[i]), F(ends[i + 1])) for i in (0, 2, 4))
    return Box(x, y, z)


DESIGN = Design(
    name='Seed "rack"',
    stocks=(
        Stock(
            name="ply12",
            thick=F(12),
            actual=(F(116, 10), F(122, 10)),
            sheet=(F(2440), F(1220)),
            species="birch_ply",
        ),
        Stock(name="oak", thick=F(20), actual=(F(20), F(20)), widest=F(180)),
    ),
    bits=(
        Bit(name="b6", kind=BitKind.STRAIGHT, radius=F(3), flute=F(22)),
        Bit(name="r3", kind=BitKind.ROUNDOVER, radius=F(3), by_hand=True),
        Bit(name="v", kind=BitKind.V, radius=F(127, 10), angle=F(90)),
    ),
    machines=(Machine(name="bench", travel=(F(600), F(600), F(80)), feed=F(2400)),),
    boards=(
        Board(name="left", stock="ply12", box=box(0, 12, 0, 240, 0, 520)),
        Board(
            name="drawer[1].front",
            stock="ply12",
            box=box(0, F(1000, 3), 0, 12, 0, F(254, 16)),
            grain=Axis.X,
            pose=(
                Turn(F(15, 2), Axis.Y, (F(0), F(0), F(40))),
                Shift((F(1), F(0), F(-3, 2))),
            ),
        ),
    ),
    joins=(
        Join(
            name="corner",
            family="box",
            verb=Verb.TO,
            first=(BoardRef("left"), BoardRef("right")),
            second=(BoardRef("top"),),
            options=(
                Option(name="pins", values=(Several((length(20), length(30))),)),
                Option(name="relief", values=(Word("half_round"), Word("r3"))),
                Option(name="fit", values=(length(F(1, 10)),)),
            ),
        ),
    ),
    shapings=(
        Shaping(
            name="pins",
            family="shelf_pins",
            boards=(BoardRef("left"), BoardRef("right")),
            axis=Axis.X,
            positive=True,
            at=(
                Spots(Axis.Y, (F(37), F(200))),
                Along(Axis.Z, Span(F(90), F(410))),
            ),
            options=(Option(name="deep", values=(length(12),)),),
        ),
        Shaping(
            name="left from z.lo with arch",
            family="arch",
            boards=(BoardRef("left"),),
            axis=Axis.Z,
            positive=False,
        ),
    ),
    tests=(
        Test(
            name="goes together",
            expectations=(
                Claim("no interference"),
                Within(
                    Measure("fit", ("back", "left")), Given(length(0)), Given(length(F(45, 100)))
                ),
                Compare(
                    Relation.LE,
                    Arithmetic(Op.ADD, Measure("volume", ("left",)), Given(length(1))),
                    Given(Quantity(F(2), Dimension(mm=3))),
                ),
            ),
        ),
    ),
)

PRINTED = r"""
design "Seed \"rack\""

stocks
  ply12   thick 12mm  actual 11.6mm..12.2mm   sheet 2440mm by 1220mm                  species birch_ply
  oak     thick 20mm  actual 20mm..20mm                               widest 180mm

bits
  b6  straight    diameter 6mm        flute 22mm
  r3  roundover   radius 3mm                                      by hand
  v   v           diameter 25.4mm                 angle 90deg

machines
  bench   travel 600mm by 600mm by 80mm   feed 2400mm/min

boards
  left                of ply12    x 0mm..12mm         y 0mm..240mm    z 0mm..520mm
  drawer[1].front     of ply12    x 0mm..1000/3mm     y 0mm..12mm     z 0mm..15.875mm     grain x
    turned 7.5deg about y at x 0mm, y 0mm, z 40mm
    moved x 1mm, y 0mm, z -1.5mm

joins
  left, right to top with box as corner
    pins [20mm, 30mm]
    relief half_round r3
    fit 0.1mm

cuts
  left, right from x.hi at y [37mm, 200mm], z 90mm..410mm with shelf_pins as pins
    deep 12mm
  left from z.lo with arch

tests
  "goes together"
    expect no interference
    expect fit(back, left) within 0mm..0.45mm
    expect (volume(left) + 1mm) <= 2mm3
"""  # noqa: E501  (printed as wide as it is)


def test_every_record_is_printed_in_full() -> None:
    assert design_text(DESIGN) == PRINTED.lstrip("\n")


def test_places_do_not_show() -> None:
    moved = replace(DESIGN, boards=tuple(replace(b, place=Place("a", 1, 2)) for b in DESIGN.boards))
    assert moved != DESIGN
    assert design_text(moved) == design_text(DESIGN)


def test_every_part_of_every_record_shows() -> None:
    """But a name made up from what is said, which would only say it again."""
    changed = [(path, d) for path, d in changed_once(DESIGN) if path != ".shapings[1].name"]
    assert len(changed) > 100
    for path, design in changed:
        assert design_text(design) != design_text(DESIGN), path


def changed_once(record: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """The record with one of its leaves changed, places aside, each leaf in turn."""
    match record:
        case None | Place():
            return
        case bool():
            yield path, not record
        case str():
            yield path, f"{record}_"
        case Enum():
            yield from ((path, other) for other in list(type(record)) if other is not record)
        case Fraction() | int():
            yield path, record + 1
        case tuple():
            for index, item in enumerate(record):
                for where, other in changed_once(item, f"{path}[{index}]"):
                    yield where, (*record[:index], other, *record[index + 1 :])
        case _:
            for field in fields(record):
                for where, other in changed_once(
                    getattr(record, field.name), f"{path}.{field.name}"
                ):
                    yield where, replace(record, **{field.name: other})


def test_an_empty_design_is_its_title() -> None:
    assert design_text(Design(name="Bench")) == 'design "Bench"\n'


def test_numbers_are_never_rounded() -> None:
    for value in (F(1, 3), F(1, 2**9), F(10**9) + F(1, 10**9), F(-7, 10**12), F(10**30, 7)):
        whole = F(exact(value))
        assert whole == value


def test_units_are_spelled_out() -> None:
    assert quantity_text(Quantity(F(1, 3), AREA)) == "1/3mm2"
    assert quantity_text(Quantity(F(7))) == "7"
    assert quantity_text(Quantity(F(90), Dimension(deg=1))) == "90deg"
    assert quantity_text(Quantity(F(2), Dimension(mm=1, deg=-1))) == "2mm deg-1"
