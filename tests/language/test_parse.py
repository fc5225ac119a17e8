"""Texts and the trees they give: what each form means, where it stands."""

from fractions import Fraction

import pytest
from dryfit.lang import syntax
from dryfit.lang.limits import DEFAULT
from dryfit.lang.parse import parse
from dryfit.lang.source import Source
from dryfit.lang.syntax import (
    Binary,
    BoardLine,
    ClaimWords,
    Declaration,
    Expect,
    Expr,
    Ident,
    If,
    Index,
    JoinLine,
    Let,
    Member,
    Name,
    Number,
    Param,
    Program,
    Range,
    Stmt,
    Unary,
    WithinRange,
)
from trees import CRATE, records, without_places


def read(text: str) -> Program:
    outcome = parse(Source("a.dry", text))
    assert outcome.findings == ()
    assert outcome.value is not None
    return outcome.value


def one(text: str) -> Stmt:
    (statement,) = read(text).statements
    return statement


def expr(text: str) -> Expr:
    statement = one(f"let a = {text}")
    assert isinstance(statement, Let)
    return statement.value


# ---- numbers and expressions ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("7", Fraction(7), None),
        ("0.25", Fraction(1, 4), None),
        ("18mm", Fraction(18), "mm"),
        ("2.5cm", Fraction(5, 2), "cm"),
        ("3/4in", Fraction(3, 4), "in"),
        ("1-1/2in", Fraction(3, 2), "in"),
        ("2400mm/min", Fraction(2400), "mm/min"),
        ("400mm/s2", Fraction(400), "mm/s2"),
        ("3000cm3", Fraction(3000), "cm3"),
        ("0008deg", Fraction(8), "deg"),
        ("5ells", Fraction(5), "ells"),
    ],
)
def test_numbers_are_exact_and_keep_their_unit(text: str, value: Fraction, unit: str) -> None:
    number = expr(text)
    assert isinstance(number, Number)
    assert (number.value, number.unit, number.text) == (value, unit, text)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("a + b*c", "a + (b*c)"),
        ("a - b - c", "(a - b) - c"),
        ("a/b/c", "(a/b)/c"),
        ("-a*b", "(-a)*b"),
        ("-a.b[0]", "-(a.b[0])"),
        ("not a == b", "not (a == b)"),
        ("not a and b or c", "((not a) and b) or c"),
        ("a or b and c", "a or (b and c)"),
        ("a + 1 < b*2", "(a + 1) < (b*2)"),
        ("a - 1..b + 1", "(a - 1)..(b + 1)"),
        ("a + b within 1..c - 1", "(a + b) within 1..(c - 1)"),
        ("a and b within 1..2", "a and (b within 1..2)"),
        ("if a then b else c + 1", "if (a) then (b) else (c + 1)"),
        ("if a then b else if c then d else e", "if a then b else (if c then d else e)"),
        ("10 - 3/4in", "10 - (3/4in)"),
        ("10-3/4", "10 - (3/4)"),
        ("t-1/2in", "t - (1/2in)"),
        ("12mm/2", "(12mm)/2"),
        ("[1, 2,]", "[1, 2]"),
        ("f(1, b: 2,)", "f(1, b: 2)"),
        ("(\n1\n+\n2\n)", "1 + 2"),
    ],
)
def test_operators_bind_as_in_arithmetic(text: str, meant: str) -> None:
    assert without_places(expr(text)) == without_places(expr(meant))


def test_a_mixed_number_is_no_difference() -> None:
    assert isinstance(expr("1-1/2in"), Number)
    assert isinstance(expr("1 - 1/2in"), Binary)
    assert isinstance(expr("1-1/2"), Binary)
    assert isinstance(expr("-1/2in"), Unary)


def test_reserved_words_are_names_where_nothing_else_can_stand() -> None:
    member = expr("left.grain")
    assert isinstance(member, Member)
    assert member.name.text == "grain"
    call = expr("f(in: 1, to: 2)")
    assert [argument.name.text for argument in call.arguments] == ["in", "to"]  # type: ignore[union-attr]
    bit = one("join a to b with box { bit b6, at 3mm }")
    assert isinstance(bit, JoinLine)
    assert [option.word.text for option in bit.options] == ["bit", "at"]


# ---- statements ----------------------------------------------------------------------------------


def test_a_board_is_its_spans_grain_and_turns() -> None:
    board = one("board shelf[i] of x x 0..x y y-1mm..+z z 0..1 grain x turned 8deg about y at x 1")
    assert isinstance(board, BoardLine)
    assert isinstance(board.name, Index)
    assert board.stock.text == "x"
    assert [span.axis.text for span in board.spans] == ["x", "y", "z"]
    assert [span.hi_is_run for span in board.spans] == [False, True, False]
    assert board.grain is not None
    assert board.grain.text == "x"
    assert [turned.axis.text for turned in board.turned] == ["y"]


def test_a_join_names_boards_family_options_and_itself() -> None:
    join = one("join a, b[1].c into d with groove { fit 0.2mm } as back[2]")
    assert isinstance(join, JoinLine)
    assert [type(part) for part in join.first] == [Name, Member]
    assert (join.verb.text, join.family.text) == ("into", "groove")
    assert [option.word.text for option in join.options] == ["fit"]
    assert isinstance(join.alias, Index)


def test_the_bounds_of_a_param_are_split_off_unless_in_parentheses() -> None:
    bound, asked = one("param a = b within 1..2"), one("param a = (b within 1..2)")
    assert isinstance(bound, Param)
    assert isinstance(bound.value, Name)
    assert isinstance(bound.within, Range)
    assert isinstance(asked, Param)
    assert isinstance(asked.value, WithinRange)
    assert asked.within is None


def test_a_property_is_a_word_and_items() -> None:
    stock = one("machine m { travel 600mm by 80mm, actual 1mm..2mm, by hand, pins [1, x], on }")
    assert isinstance(stock, Declaration)
    kinds = [[type(item).__name__ for item in entry.items] for entry in stock.properties]
    assert kinds == [["Number", "Name", "Number"], ["Range"], ["Name"], ["ListOf"], []]


def test_properties_stand_between_commas_or_line_ends() -> None:
    on_one = one("stock s { thick 12mm, sheet 1m by 2m }")
    on_many = one("stock s\n{\n  thick 12mm  # as sold\n\n  sheet 1m by 2m,\n}")
    assert without_places(on_many) == without_places(on_one)


def test_a_claim_is_bare_words_or_an_expression() -> None:
    words = one('test "a" { expect no interference }').body[0]  # type: ignore[union-attr]
    assert isinstance(words, Expect)
    assert isinstance(words.claim, ClaimWords)
    assert [word.text for word in words.claim.words] == ["no", "interference"]
    single = one('test "a" { expect assembles }').body[0]  # type: ignore[union-attr]
    assert isinstance(single, Expect)
    assert isinstance(single.claim, ClaimWords)


def test_else_if_goes_on_with_another_if() -> None:
    chain = one("if a { let x1 = 1 } else if b { let x2 = 2 }\nelse { let x3 = 3 }")
    assert isinstance(chain, If)
    (other,) = chain.no
    assert isinstance(other, If)
    assert len(other.no) == 1
    assert chain.place.end == other.place.end


PLACED = "place a = b() at x 1, y 2 turned c about z"
BOARD = "board a of s x 0..1 y 0..1 z 0..1 grain z"


@pytest.mark.parametrize(
    ("broken", "whole"),
    [
        ("place a = b()\n at x 1,\n y 2\n turned c about z", PLACED),
        ("join a,\n  b\n  to c\n  with dado", "join a, b to c with dado"),
        ("let a = 1 +\n  2\n  - 3", "let a = 1 + 2 - 3"),
        ("let a = if b\n  then 1\n  else 2", "let a = if b then 1 else 2"),
        ("board a of s\n  x 0..1\n  y 0..1\n  z 0..1\n  grain z", BOARD),
        ("let a = f(\n  # why\n  1,\n  b: 2\n)", "let a = f(1, b: 2)"),
        ("for i in 1..2\n{\n}", "for i in 1..2 { }"),
    ],
)  # fmt: skip
def test_a_line_may_go_on_below(broken: str, whole: str) -> None:
    assert without_places(one(broken)) == without_places(one(whole))


def test_a_name_at_the_end_of_a_line_ends_it_whatever_else_the_word_may_be() -> None:
    first, second = read("let a = b.about\nlet c = d.of").statements
    assert isinstance(first, Let)
    assert isinstance(second, Let)


@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r", "\n\r\n  \t"])
def test_every_line_end_is_one(line_end: str) -> None:
    text = CRATE.replace("\n", line_end)
    assert without_places(read(text)) == without_places(read(CRATE))


def test_blanks_of_any_kind_part_words() -> None:
    assert without_places(one("let\ta\u00a0=\u20031")) == without_places(one("let a = 1"))


# ---- places and comments -------------------------------------------------------------------------


def test_every_word_has_its_own_place() -> None:
    for text in (CRATE, CRATE.replace("\n", "\r\n")):
        for record in records(read(text)):
            if isinstance(record, (Ident, Name, Number)):
                assert text[record.place.start : record.place.end] == record.text


def test_every_statement_reaches_from_its_keyword_to_its_end() -> None:
    ends = {'"Seed crate"', "1..4", "}", "ply12.thick", "grain z", "z 0", "corner"}
    for statement in read(CRATE).statements:
        text = CRATE[statement.place.start : statement.place.end]
        assert text.split()[0] in ("design", "param", "stock", "bit", "let", "board", "join",
                                   "assembly", "for", "test")  # fmt: skip
        assert any(text.endswith(end) for end in ends), text


def test_parentheses_belong_to_the_place() -> None:
    text = "let a = (b + c)*d"
    product = one(text).value  # type: ignore[union-attr]
    assert isinstance(product, Binary)
    assert text[product.left.place.start : product.left.place.end] == "(b + c)"
    assert text[product.op_place.start : product.op_place.end] == "*"


def test_comments_are_kept_in_order() -> None:
    program = read('# one  \nlet a = "# no" # two\n  #three')
    assert [(c.text, c.own_line) for c in program.comments] == [
        (" one", True),
        (" two", False),
        ("three", True),
    ]


# ---- limits --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "form", ["{}1{}", "f({}1{})", "-{}1{}", "[{}1{}]", "if a then {}1{} else 2", "a[{}1{}]"]
)
def test_nesting_is_bound_and_what_is_within_it_is_read(form: str) -> None:
    def text(depth: int) -> str:
        value = "1"
        for _ in range(depth):
            value = form.replace("{}1{}", f"({value})")
        return f"let a = {value}"

    assert parse(Source("a.dry", text(20))).findings == ()
    deep = parse(Source("a.dry", text(DEFAULT.nesting + 1)))
    assert [finding.code for finding in deep.findings] == ["L102"]


def test_the_tree_is_made_of_records_of_the_language_alone() -> None:
    assert {type(record).__module__ for record in records(read(CRATE))} == {
        syntax.__name__,
        "dryfit.kernel.finding",
    }
