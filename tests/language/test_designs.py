"""What a text means: the `Design` that comes out of it."""

from fractions import Fraction

import pytest
from dryfit.kernel.board import Axis, Board, Box, Shift, Span, Turn
from dryfit.kernel.cutter import BitKind
from dryfit.kernel.design import BoardRef, Design, Several, Verb, Word
from dryfit.kernel.expect import Arithmetic, Claim, Compare, Given, Measure, Op, Relation, Within
from dryfit.kernel.quantity import LENGTH, Quantity
from dryfit.lang.files import MemoryFiles
from dryfit.lang.pipeline import Reading, design_from

HEAD = "stock ply12 { thick 12mm, actual 11.6mm..12.2mm }\nlet t = ply12.thick\n"


def read(text: str, **settings: str) -> Reading:
    return design_from("piece.dry", MemoryFiles({"piece.dry": text}), settings)


def made(text: str, **settings: str) -> Design:
    """The design of a text that must be without findings."""
    reading = read(text, **settings)
    assert reading.findings == ()
    assert reading.value is not None
    return reading.value


def box_of(board: Board) -> tuple[tuple[Fraction, Fraction], ...]:
    return tuple((board.box[axis].lo, board.box[axis].hi) for axis in Axis)


def mm(value: str | int) -> Fraction:
    return Fraction(value)


def worth(expression: str) -> tuple[Fraction, Fraction]:
    """The exact value of a length, read off a board as long as it is."""
    text = f"let long = {expression}\nboard b of ply12  x 0..long  y 0..200mm  z 0..t"
    board = made(HEAD + text).boards[0]
    return board.box.x.lo, board.box.x.hi


@pytest.mark.parametrize(
    ("expression", "value"),
    [
        ("1-1/2in", "38.1"),
        ("3/4in + 1/3*1mm", "1163/60"),
        ("(10mm + 2cm)/4", "7.5"),
        ("100mm*100mm/(4mm)", "2500"),
        ("min(3cm, 1in)", "25.4"),
        ("max([3cm, 1in, 0])", "30"),
        ("abs(0 - 3mm)", "3"),
        ("floor(17.9mm, 1mm)", "17"),
        ("ceil(17.1mm, 1/2*1mm)", "17.5"),
        ("round(17.5mm, 1mm)", "18"),
        ("floor(-1.5)*-1mm", "2"),
        ("round(2.5)*1mm", "3"),
        ("sum([1mm, 2mm, 3mm])", "6"),
        ("len([1, 2, 3])*1mm", "3"),
        ("[1mm, 2mm][2]", "2"),
        ("if t > 10mm then 5mm else 6mm", "5"),
        ("if not t > 10mm or 1 == 2 then 5mm else 6mm", "6"),
        ("if t within ply12.actual.lo..ply12.actual.hi then 1mm else 2mm", "1"),
        ("ply12.actual.hi - ply12.actual.lo", "0.6"),
    ],
)
def test_expressions_are_exact(expression: str, value: str) -> None:
    assert worth(expression) == (0, Fraction(value))


def test_functions_lets_and_choices() -> None:
    design = made(
        HEAD
        + "fn steps(n) = if n < 1 then 0mm else 10mm + steps(n - 1)\n"
        + "fn scaled(a: length, by: count = 3) = a*by\n"
        + "board b of ply12  x 0..steps(5)  y 0..scaled(by: 2, a: 20mm)  z 0..t\n"
    )
    assert box_of(design.boards[0]) == ((0, 50), (0, 40), (0, 12))


def test_spans_that_run_on_and_grain_and_turns() -> None:
    (board,) = made(
        HEAD
        + "board b of ply12  x 10mm..+30mm  y -5mm..5mm  z t..+t  grain y"
        + " turned 8deg about y at x 1in, z 3mm turned -90deg about z"
    ).boards
    assert board.box == Box(Span(mm(10), mm(40)), Span(mm(-5), mm(5)), Span(mm(12), mm(24)))
    assert board.grain is Axis.Y
    assert board.pose == (
        Turn(Fraction(8), Axis.Y, (Fraction("25.4"), mm(0), mm(3))),
        Turn(Fraction(-90), Axis.Z, (mm(0), mm(0), mm(0))),
    )


def test_loops_number_boards_and_index_them() -> None:
    design = made(
        HEAD
        + "for i in 1..3 {\n  let up = i*80mm\n"
        + "  for side in [0mm, 400mm] {\n    if side > 0mm {\n"
        + "      board shelf[i] of ply12  x side..+300mm  y 0..200mm  z up..+t\n    }\n  }\n}\n"
        + "for nothing in 1..0 { board never of ply12  x 0..1mm  y 0..1mm  z 0..t }\n"
        + "let count = len(shelf)\n"
        + "board top of ply12  x 0..count*100mm  y 0..shelf[3].z.lo  z 900mm..+t\n"
    )
    assert [b.name for b in design.boards] == ["shelf[1]", "shelf[2]", "shelf[3]", "top"]
    assert box_of(design.boards[3]) == ((0, 300), (0, 240), (900, 912))


def test_parts_of_a_board_follow_how_it_lies() -> None:
    design = made(
        HEAD
        + "board a of ply12  x 0..t  y 0..200mm  z 0..300mm\n"
        + "board b of ply12  x 0..t  y 0..200mm  z 0..300mm  grain y turned 90deg about x\n"
        + "board c of ply12  x 0..a.length  y 0..a.width  z 0..a.thick\n"
        + "board d of ply12  x 0..b.length  y 0..b.width  z a.x.lo..b.x.hi\n"
    )
    assert box_of(design.boards[2]) == ((0, 300), (0, 200), (0, 12))
    assert box_of(design.boards[3]) == ((0, 200), (0, 300), (0, 12))


ASSEMBLY = (
    HEAD
    + """
assembly tray(w: length, d = 200mm, wood: stock = ply12) {
  board base of wood  x 0..w  y 0..d  z 0..t turned 5deg about x
  place lid = cover(w: w) at z 50mm
  join base to lid.top with butt as shut
}
assembly cover(w: length) {
  board top of ply12  x 0..w  y 0..20mm  z 0..t
}
for i in 1..2 {
  place tray[i] = tray(w: i*100mm) at x 1mm, z 3mm turned 90deg about z at x 7mm
}
join tray[1].base to tray[2].lid.top with butt
"""
)


def test_assemblies_are_put_down_inside_each_other() -> None:
    design = made(ASSEMBLY)
    assert [b.name for b in design.boards] == [
        "tray[1].base",
        "tray[1].lid.top",
        "tray[2].base",
        "tray[2].lid.top",
    ]
    down = (
        Turn(Fraction(90), Axis.Z, (mm(7), mm(0), mm(0))),
        Shift((mm(1), mm(0), mm(3))),
    )
    own = Turn(Fraction(5), Axis.X, (mm(0), mm(0), mm(0)))
    assert design.boards[0].pose == (own, *down)
    assert design.boards[1].pose == (Shift((mm(0), mm(0), mm(50))), *down)
    assert box_of(design.boards[3])[0] == (0, 200)


def test_joins_of_assemblies_are_about_their_own_boards() -> None:
    design = made(ASSEMBLY)
    assert [(j.name, j.first[0].name, j.second[0].name) for j in design.joins] == [
        ("tray[1].shut", "tray[1].base", "tray[1].lid.top"),
        ("tray[2].shut", "tray[2].base", "tray[2].lid.top"),
        (
            "tray[1].base to tray[2].lid.top with butt",
            "tray[1].base",
            "tray[2].lid.top",
        ),
    ]


def test_joins_may_stand_above_their_boards_and_take_lists_and_groups() -> None:
    design = made(
        HEAD
        + "join shelf into sides with dado\njoin shelf into sides with dado\n"
        + "board left of ply12  x 0..t  y 0..200mm  z 0..300mm\n"
        + "board right of ply12  x 500mm..+t  y 0..200mm  z 0..300mm\n"
        + "let sides = [left, right]\n"
        + "for i in 1..2 { board shelf[i] of ply12  x 0..512mm  y 0..200mm  z i*80mm..+t }\n"
    )
    first, again = design.joins
    assert (first.verb, first.family) == (Verb.INTO, "dado")
    assert [ref.name for ref in first.first] == ["shelf[1]", "shelf[2]"]
    assert [ref.name for ref in first.second] == ["left", "right"]
    assert first.name == "shelf[1], shelf[2] into left, right with dado"
    assert again.name == f"{first.name} (2)"


def test_options_are_values_where_a_value_is_visible_and_words_otherwise() -> None:
    design = made(
        HEAD
        + "bit b6 { straight 6mm, flute 22mm }\n"
        + "let play = 0.1mm\nlet sizes = [10mm, 20mm]\nlet cutter = b6\n"
        + "board corner of ply12  x 0..t  y 0..200mm  z 0..300mm\n"
        + "board top of ply12  x 0..200mm  y 0..200mm  z 288mm..300mm\n"
        + "join corner to top with box { fit play, pins [1, 2*3], sizes sizes, bit cutter,"
        + " relief corner b6, odd }\n"
    )
    options = {option.name: option for option in design.joins[0].options}
    assert options["fit"].values == (Quantity(Fraction(1, 10), LENGTH),)
    pins, sizes = options["pins"].values[0], options["sizes"].values[0]
    assert isinstance(pins, Several)
    assert pins.items == (Quantity(Fraction(1)), Quantity(Fraction(6)))
    assert isinstance(sizes, Several)
    assert [q.number for q in sizes.items] == [10, 20]
    written = (*options["bit"].values, *options["relief"].values)
    words = [value.text for value in written if isinstance(value, Word)]
    assert words == ["b6", "corner", "b6"]
    assert options["odd"].values == ()
    assert len(options["relief"].value_places) == 2


def test_stocks_bits_and_machines() -> None:
    design = made(
        "stock pine { lumber, widest 10in, longest 3m, thick 3/4in, species pine }\n"
        "stock ply { sheet 2440mm by 1220mm, thick 12mm, actual 11.6mm..12.2mm }\n"
        "bit b6 { straight 6mm, flute 22mm, reach 40mm }\n"
        "bit r3 { roundover 3mm, by hand }\nbit v { v 60deg 12mm }\n"
        "machine bench { travel 600mm by 500mm by 80mm, feed 2400mm/min, accel 400mm/s2 }\n"
    )
    pine, ply = design.stocks
    assert (pine.thick, pine.widest, pine.longest) == (Fraction("19.05"), 254, 3000)
    assert pine.actual == (pine.thick, pine.thick)
    assert (pine.species, pine.sheet) == ("pine", None)
    assert (ply.sheet, ply.actual) == ((2440, 1220), (Fraction("11.6"), Fraction("12.2")))
    b6, r3, v = design.bits
    assert (b6.kind, b6.radius, b6.flute, b6.reach) == (BitKind.STRAIGHT, 3, 22, 40)
    assert (r3.kind, r3.radius, r3.by_hand) == (BitKind.ROUNDOVER, 3, True)
    assert (v.kind, v.radius, v.angle) == (BitKind.V, 6, 60)
    (machine,) = design.machines
    assert machine.travel == (600, 500, 80)
    assert (machine.feed, machine.accel) == (2400, 400)


def test_parts_of_stocks_bits_and_machines() -> None:
    design = made(
        "stock ply { sheet 2440mm by 1220mm, thick 12mm, species birch }\nbit b6 { straight 6mm }\n"
        "machine bench { travel 600mm by 500mm by 80mm, feed 2400mm/min }\n"
        'let wide = if ply.species == "birch" and bench.feed == 40mm/s then 10 else 1\n'
        "board b of ply  x 0..b6.diameter*wide  y 0..ply.width - bench.z  z 0..ply.thick\n"
    )
    assert box_of(design.boards[0]) == ((0, 60), (0, 1140), (0, 12))


def test_expectations_keep_measures_and_work_out_the_rest() -> None:
    (test,) = made(
        HEAD
        + "board a of ply12  x 0..t  y 0..200mm  z 0..300mm\n"
        + 'test "sizes" {\n  let long = 300mm\n  expect no interference\n'
        + "  expect length(a) - 2*t == long and width(a) > 0\n"
        + "  expect fit(a, a) within 0..0.1mm\n  expect 2 == 2\n  expect 1 == 1 or 2 == 3\n}\n"
    ).tests
    assert test.name == "sizes"
    claim, size, width, fit, plain, either = test.expectations
    assert isinstance(claim, Claim)
    assert claim.words == "no interference"
    assert isinstance(size, Compare)
    assert isinstance(size.left, Arithmetic)
    assert isinstance(size.left.left, Measure)
    assert isinstance(size.left.right, Given)
    assert size.left.op is Op.SUB
    assert size.left.left.name == "length"
    assert size.left.left.subjects == ("a",)
    assert size.left.right.quantity == Quantity(Fraction(24), LENGTH)
    assert isinstance(width, Compare)
    assert isinstance(width.right, Given)
    assert width.right.quantity == Quantity(Fraction(0), LENGTH)
    assert isinstance(fit, Within)
    assert isinstance(fit.lo, Given)
    assert fit.lo.quantity == Quantity(Fraction(0), LENGTH)
    assert isinstance(plain, Compare)
    assert plain.relation is Relation.EQ
    assert isinstance(either, Compare)


def test_params_are_set_from_outside_by_the_same_grammar() -> None:
    text = (
        HEAD
        + "param width = 360mm within 240mm..600mm\nparam rows = 2\nparam name = ply12\n"
        + "stock ply18 { thick 18mm }\nparam wood = ply12\n"
        + "board b of wood  x 0..width  y 0..rows*10mm  z 0..wood.thick\n"
    )
    assert box_of(made(text).boards[0]) == ((0, 360), (0, 20), (0, 12))
    board = made(text, width="1ft + 2*10mm", rows="3", wood="ply18").boards[0]
    assert box_of(board) == ((0, Fraction("324.8")), (0, 30), (0, 18))
    assert board.stock == "ply18"


def test_a_setting_is_one_value_and_nothing_else() -> None:
    text = "param width = 360mm\n"
    for value in ("", "1mm\nboard b of x x 0..1mm", "1mm within 2mm..3mm", "1mm # more", "\0"):
        reading = read(text, width=value)
        assert reading.value is None or reading.value.boards == ()
    assert [f.code for f in read(text, **{"wi dth": "1mm"}).findings] == ["N117"]
    assert [f.code for f in read(text, **{"": "1mm"}).findings] == ["N117"]


def test_a_design_without_a_title_is_called_after_its_file() -> None:
    assert made(HEAD).name == "piece"
    assert made('design "Seed cabinet"').name == "Seed cabinet"


def test_places_lead_back_to_the_words() -> None:
    text = HEAD + "board left of ply12  x 0..t  y 0..200mm  z 0..300mm\njoin left to left with butt"
    design = made(text)
    board, join = design.boards[0], design.joins[0]
    for place, words in (
        (board.place, "left"),
        (join.place, "join left to left with butt"),
        (join.family_place, "butt"),
        (join.first[0].place, "left"),
        (design.stocks[0].place, "ply12"),
    ):
        assert place is not None
        assert text[place.start : place.end] == words
    assert join.first == (BoardRef("left", join.first[0].place),)
