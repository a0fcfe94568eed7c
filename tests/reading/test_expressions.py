"""Sums of lengths: what they come to, and that nothing else is let through."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as some

from sequencer.model.quantities import QUANTITIES
from sequencer.reading.expressions import ExpressionError, evaluate, parse

NAMES = {"wide": 190.0, "board": 15.0, "rail": 40.0, "rail-2": 60.0, "side-rail": 300.0, "side": 320.0}


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12", 12), ("12.5", 12.5), (".5", 0.5), ("  7 ", 7), ("010", 10),
        ("1 + 2*3", 7), ("(1 + 2)*3", 9), ("10 - 3 - 2", 5), ("24/4/2", 3), ("2*-3", -6), ("--4", 4), ("+4", 4), ("-(2 + 3)", -5),
        ("7/16", 0.4375), ("3 1/2", 3.5), ("3 1/2 + 1/4", 3.75), ("2*3 1/2", 7), ("7/3 1/2", 2), ("1/3*3", 1), ("0.1 + 0.2", 0.3),
        ("10mm", 10), ("1 cm", 10), ("1 in", 25.4), ('1"', 25.4), ('3 1/2"', 88.9), ("7/16 in", 11.1125), ("1/2 in + 1 mm", 13.7),
        ("wide - 2*board", 160), ("wide-2*board", 160), ("wide -2*board", 160), ("(wide)-board", 175),
        ("min(wide, board)", 15), ("max(1, 2, 3)*2", 6), ("min(7,5)", 5), ("max(board)", 15), ("min(max(1, 2), 3)", 2),
    ],
)  # fmt: skip
def test_value(text: str, value: float) -> None:
    assert evaluate(text, NAMES) == pytest.approx(value, abs=1e-12)


def test_fractions_in_the_text_are_exact() -> None:
    assert evaluate("0.1 + 0.2", {}) == 0.3
    assert evaluate("1/3 + 1/3 + 1/3", {}) == 1


def test_in_an_inch_file_plain_numbers_stay_and_units_are_turned_into_inches() -> None:
    assert evaluate("3 1/2", {}, "in") == 3.5
    assert evaluate("25.4 mm + 1", {}, "in") == 2
    assert evaluate('2"', {}, "in") == 2


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("side-rail", ("side-rail",)),  # the longest known name
        ("side - rail", ("side", "rail")),
        ("rail-2", ("rail-2",)),
        ("rail-3", ("rail",)),  # not known: rail minus 3
        ("side-rail-2", ("side-rail",)),  # side-rail minus 2
        ("side-rail-board", ("side-rail", "board")),
        ("unknown-name", ("unknown-name",)),
        ("board + wide + board", ("board", "wide")),
    ],
)
def test_known_names_decide_about_hyphens(text: str, names: tuple[str, ...]) -> None:
    assert parse(text, NAMES).names == names


def test_hyphens_of_known_names() -> None:
    assert evaluate("side-rail-2", NAMES) == 298
    assert evaluate("rail-2-2", NAMES) == 58


def test_names_of_the_knowledge_are_read() -> None:
    sum_ = parse("min(station.blade-radius - 2, 2*blank.length)", QUANTITIES)
    assert sum_.names == ("station.blade-radius", "blank.length")
    assert sum_.value({"station.blade-radius": 125, "blank.length": 40}) == 80
    assert parse("2*blank.length").names == ("blank.length",)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "A number or a sum is missing here."),
        ("   ", "A number or a sum is missing here."),
        ("1 +", "'1 +' cannot be worked out: it ends too early."),
        ("* 2", "'* 2' cannot be worked out: a number or a name is missing before '*'."),
        ("(1 + 2", "'(1 + 2' cannot be worked out: a bracket is not closed."),
        ("1 + 2)", "'1 + 2)' cannot be worked out: a bracket is closed that was never opened."),
        ("2 board", "'2 board' cannot be worked out: a sign such as + or * is missing before 'board'."),
        ("(2 3)", "'(2 3)' cannot be worked out: a sign such as + or * is missing before '3'."),
        ("7,5", "'7,5' cannot be worked out: a comma stands where none can be. Write decimals with a point: 7.5, not 7,5."),
        ("(7,5)", "'(7,5)' cannot be worked out: a comma stands where none can be. Write decimals with a point: 7.5, not 7,5."),
        ("3-1/2", "'3-1/2' cannot be worked out: '3-1/2' can mean two things. Write 3 1/2, or 3 - 1/2 for the difference."),
        ("3 5/4", "'3 5/4' cannot be worked out: the fraction after the 3 is not less than one."),
        ("1/0", "'1/0' divides by zero."),
        ("3 1/0", "'3 1/0' divides by zero."),
        ("1/0 in", "'1/0 in' divides by zero."),
        ("wide/(board - 15)", "'wide/(board - 15)' divides by zero."),
        ("wied", "'wied' is no known size. Did you mean 'wide'?"),
        ("x", "'x' is no known size. There are board, rail, rail-2, side, side-rail and wide."),
        ("min", "'min' cannot be worked out: 'min' needs brackets: min(a, b)."),
        ("mm", "'mm' cannot be worked out: a number is missing before 'mm'."),
        ("wide mm", "'wide mm' cannot be worked out: a sign such as + or * is missing before 'mm'."),
        ("3½", "'3½' cannot be worked out: '½' has no meaning in a sum. Write 1/2 instead."),
        ("3 × 4", "'3 × 4' cannot be worked out: '×' has no meaning in a sum. Write * instead."),
        ("wide – 3", "'wide – 3' cannot be worked out: '–' has no meaning in a sum. Write - instead."),
        ("3'", "'3'' cannot be worked out: ''' has no meaning in a sum."),
        ("2**3", "'2**3' cannot be worked out: '**' has no meaning in a sum. Write a*a instead."),
        ("7//2", "'7//2' cannot be worked out: '//' has no meaning in a sum. Write / instead."),
        ("__import__('os')",
         "'__import__('os')' cannot be worked out: '__import__(' looks like a call; only min(...) and max(...) can be used."),
        ("board.real", "'board.real' is no known size. Did you mean 'board'?"),
        ("x.y()", "'x.y()' cannot be worked out: 'x.y(' looks like a call; only min(...) and max(...) can be used."),
        ("a[0]", "'a[0]' cannot be worked out: '[' has no meaning in a sum."),
        ("lambda: 0", "'lambda: 0' cannot be worked out: ':' has no meaning in a sum. Write / instead."),
        ("1 if wide else 2", "'1 if wide else 2' cannot be worked out: a sign such as + or * is missing before 'if'."),
        ("wide; board", "'wide; board' cannot be worked out: ';' has no meaning in a sum."),
        ("wide = 3", "'wide = 3' cannot be worked out: '=' has no meaning in a sum."),
        ("1" * 201, "This is longer than 200 characters: give parts of it names in sizes."),
    ],
)  # fmt: skip
def test_what_cannot_be_worked_out(text: str, says: str) -> None:
    with pytest.raises(ExpressionError) as error:
        evaluate(text, NAMES)
    assert str(error.value) == says


def test_brackets_may_not_stand_ever_deeper() -> None:
    assert evaluate("(" * 20 + "1" + ")" * 20, {}) == 1
    with pytest.raises(ExpressionError, match="there are over 20 brackets inside each other"):
        parse("(" * 21 + "1" + ")" * 21)


def test_the_longest_row_of_signs_is_worked_out() -> None:
    assert evaluate("-" * 198 + "1", {}) == 1


def test_a_result_without_end_is_no_number() -> None:
    with pytest.raises(ExpressionError, match="comes to no number"):
        evaluate("a*a", {"a": 1e300})
    with pytest.raises(ExpressionError, match="comes to no number"):
        evaluate("a - 1", {"a": float("nan")})


Exact = tuple[str, Fraction]


def _numbers() -> some.SearchStrategy[Exact]:
    whole = some.integers(0, 500).map(lambda n: (str(n), Fraction(n)))
    decimal = some.tuples(some.integers(0, 500), some.integers(0, 99)).map(
        lambda n: (f"{n[0]}.{n[1]:02}", Fraction(f"{n[0]}.{n[1]:02}"))
    )
    mixed = some.tuples(some.integers(0, 50), some.integers(1, 15)).map(
        lambda n: (f"{n[0]} {n[1]}/16", n[0] + Fraction(n[1], 16))
    )
    inches = some.integers(0, 50).map(lambda n: (f"{n} in", n * Fraction(254, 10)))
    return whole | decimal | mixed | inches


def _combined(parts: some.SearchStrategy[Exact]) -> some.SearchStrategy[Exact]:
    def two(args: tuple[Exact, str, Exact, bool]) -> Exact:
        (left, one), sign, (right, other), spaced = args
        gap = " " if spaced else ""
        text = f"({left}){gap}{sign}{gap}({right})"
        if sign == "/":
            return (text, one / other) if other else (f"({left})", one)
        return text, {"+": one + other, "-": one - other, "*": one * other}[sign]

    def least(args: tuple[Exact, Exact]) -> Exact:
        return f"min({args[0][0]}, {args[1][0]})", min(args[0][1], args[1][1])

    def most(args: tuple[Exact, Exact]) -> Exact:
        return f"max({args[0][0]},{args[1][0]})", max(args[0][1], args[1][1])

    def minus(part: Exact) -> Exact:
        return f"-({part[0]})", -part[1]

    pair = some.tuples(parts, parts)
    return (
        some.tuples(parts, some.sampled_from("+-*/"), parts, some.booleans()).map(two)
        | pair.map(least)
        | pair.map(most)
        | (parts.map(minus))
    )


@settings(deadline=None)
@given(some.recursive(_numbers(), _combined, max_leaves=8).filter(lambda made: len(made[0]) <= 200))
def test_sums_come_to_what_exact_fractions_come_to(made: Exact) -> None:
    text, exact = made
    assert evaluate(text, {}) == float(exact)


ROWS = some.lists(
    some.tuples(some.sampled_from("+-*"), some.integers(1, 9), some.sampled_from([None, "wide", "board"])), min_size=1, max_size=9
)


@settings(deadline=None)
@given(some.integers(1, 9), ROWS)
def test_times_before_plus_and_from_left_to_right(first: int, rest: list[tuple[str, int, str | None]]) -> None:
    """Without brackets, against sums worked out term by term."""
    text, done, term, sign = str(first), Fraction(0), Fraction(first), 1
    for each, number, name in rest:
        value = Fraction(number) if name is None else Fraction(NAMES[name])
        text += f" {each} {number if name is None else name}"
        if each == "*":
            term *= value
        else:
            done, term, sign = done + sign * term, value, 1 if each == "+" else -1
    assert evaluate(text, NAMES) == float(done + sign * term)


@settings(deadline=None)
@given(some.text() | some.text("0123456789 .,/*+-()\"'[]{}:_minaxbordew", max_size=40))
@example("1e400")
@example("9" * 200 + "*" + "9")
@example("\x00")
@example("²")
@example("١")
def test_any_text_is_a_sum_or_an_expression_error(text: str) -> None:
    try:
        result = evaluate(text, NAMES)
    except ExpressionError as error:
        says = str(error)
    else:
        says = f"{result}."
    assert says.endswith((".", "?"))
