"""Sums of lengths: numbers, fractions, names, + - * /, brackets, min and max. A parser of our own; nothing else can run.

    wide - 2*board        (long + 3 1/2) / 2        min(station.deepest, 2*blank.thickness)        7/16 in

Names are kebab-case, so a hyphen may belong to a name. Where names are known they decide: `side-rail` is one name if it
is known, else `side` minus `rail` if `side` is; the longest known name wins. A space on both sides of a minus sign always
makes it one. Numbers may carry `mm`, `cm`, `in` or `"`; without, they are in the unit of the file.

Numbers written in the text are added and divided as exact fractions; names are floats.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import isfinite
from typing import Final, Literal, NoReturn, TypeAlias

from sequencer.reading.words import meant

Unit = Literal["mm", "in"]

UNITS: Final[Mapping[str, Fraction]] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "in": Fraction(254, 10),
    '"': Fraction(254, 10),
}
"""Millimetres in each unit; the inch is 25.4 mm exactly."""

RESERVED: Final = ("mm", "cm", "in", "min", "max")
"""Words that can be no name in a sum."""

LONGEST: Final = 200
"""Characters."""
DEEPEST: Final = 20
"""Brackets inside brackets."""


class ExpressionError(ValueError):
    """A sum that cannot be read or worked out; its text is for the person who wrote it."""


@dataclass(frozen=True, slots=True)
class _Number:
    exact: Fraction
    value: float


@dataclass(frozen=True, slots=True)
class _Name:
    name: str


@dataclass(frozen=True, slots=True)
class _Sum:
    """A sign or function and what it is applied to."""

    sign: str
    parts: tuple[_Node, ...]


_Node: TypeAlias = "_Number | _Name | _Sum"


@dataclass(frozen=True)
class Expression:
    """A sum that was read and can be worked out as often as needed."""

    text: str
    names: tuple[str, ...]
    """The names in it, each once, in the order they are used."""
    _root: _Node

    def value(self, names: Mapping[str, float]) -> float:
        """What it comes to. ExpressionError for an unknown name, a division by zero, or a result without end."""
        try:
            result = _value(self._root, names)
        except ZeroDivisionError:
            raise ExpressionError(f"'{self.text}' divides by zero.") from None
        if not isfinite(result):
            raise ExpressionError(f"'{self.text}' comes to no number.")
        return float(result)


def evaluate(text: str, names: Mapping[str, float], unit: Unit = "mm") -> float:
    """What a sum comes to with these names. ExpressionError if it cannot be read or worked out."""
    return parse(text, names, unit).value(names)


def parse(text: str, known: Collection[str] = (), unit: Unit = "mm") -> Expression:
    """Reads a sum. `known` are the names that decide about hyphens; a number with a unit is turned into `unit`.

    ExpressionError, in plain words, for anything that is not a sum as described above.
    """
    if len(text) > LONGEST:
        raise ExpressionError(f"This is longer than {LONGEST} characters: give parts of it names in sizes.")
    if not text.strip():
        raise ExpressionError("A number or a sum is missing here.")
    return _Parser(text, known, UNITS[unit]).read()


def _value(node: _Node, names: Mapping[str, float]) -> float:
    if isinstance(node, _Number):
        return node.value
    if isinstance(node, _Name):
        try:
            return names[node.name]
        except KeyError:
            raise ExpressionError(f"'{node.name}' is no known size. {meant(node.name, names)}".rstrip()) from None
    values = [_value(part, names) for part in node.parts]
    if node.sign == "+":
        return values[0] + values[1]
    if node.sign == "-":
        return values[0] - values[1] if len(values) == 2 else -values[0]
    if node.sign == "*":
        return values[0] * values[1]
    if node.sign == "/":
        return values[0] / values[1]
    return min(values) if node.sign == "min" else max(values)


def _apply(sign: str, *parts: _Node) -> _Node:
    """The node, worked out at once and exactly where all its parts are numbers."""
    exact = [part.exact for part in parts if isinstance(part, _Number)]
    if len(exact) < len(parts):
        return _Sum(sign, parts)
    if sign == "+":
        result = exact[0] + exact[1]
    elif sign == "-":
        result = exact[0] - exact[1] if len(exact) == 2 else -exact[0]
    elif sign == "*":
        result = exact[0] * exact[1]
    elif sign == "/":
        result = exact[0] / exact[1]
    else:
        result = min(exact) if sign == "min" else max(exact)
    return _Number(result, float(result))


_TOKEN = re.compile(
    r"""\s*(?:
        (?P<dashed>[0-9]+-[0-9]+/[0-9]+)(?![0-9.])
      | (?P<mixed>[0-9]+[ ]+[0-9]+/[0-9]+)(?![0-9.])
      | (?P<fraction>[0-9]+/[0-9]+)(?=[ ]*(?:mm|cm|in|")(?![\w.-]))
      | (?P<number>[0-9]+(?:\.[0-9]+)?|\.[0-9]+)
      | (?P<name>[^\W\d]\w*(?:[-.]\w+)*)
      | (?P<sign>\*\*|//|[-+*/(),"])
      | (?P<other>\S)
    )""",
    re.VERBOSE,
)
_EXPONENT = re.compile(r"[eE][-+]?[0-9]+(?![\w.-])")
_UNIT = re.compile(r'[ ]*(mm|cm|in|")(?![\w.-])')

_INSTEAD = {
    "×": "*", "·": "*", "÷": "/", ":": "/", "−": "-", "–": "-", "—": "-", "”": '"', "“": '"', "″": '"', "½": "1/2", "¼": "1/4",
    "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "**": "a*a", "//": "/",
}  # fmt: skip


class _Parser:
    """Reads from left to right; every method takes what it can and leaves the place behind it."""

    def __init__(self, text: str, known: Collection[str], unit: Fraction) -> None:
        self.text = text
        self.known = known
        self.unit = unit
        self.here = 0
        self.depth = 0
        self.names: dict[str, None] = {}

    def read(self) -> Expression:
        """The whole text as one sum."""
        try:
            root = self.sum()
            kind, token, _ = self.next()
        except ZeroDivisionError:
            raise ExpressionError(f"'{self.text}' divides by zero.") from None
        if token == ",":
            self.fail("a comma stands where none can be. Write decimals with a point: 7.5, not 7,5")
        if token == ")":
            self.fail("a bracket is closed that was never opened")
        if kind:
            self.fail(f"a sign such as + or * is missing before '{token}'")
        return Expression(self.text, tuple(self.names), root)

    def fail(self, why: str) -> NoReturn:
        raise ExpressionError(f"'{self.text}' cannot be worked out: {why}.")

    def next(self) -> tuple[str, str, int]:
        """Kind, text and end of the next token; empty at the end of the text."""
        found = _TOKEN.match(self.text, self.here)
        if found is None or found.lastgroup is None:
            return "", "", self.here
        kind, token = found.lastgroup, found[found.lastgroup]
        if kind == "other" or token in _INSTEAD:
            write = f". Write {_INSTEAD[token]} instead" if token in _INSTEAD else ""
            self.fail(f"'{token}' has no meaning in a sum{write}")
        return kind, token, found.end()

    def taken(self, *signs: str) -> str:
        """The next token if it is one of these signs, and steps over it; else nothing."""
        kind, token, end = self.next()
        if kind == "sign" and token in signs:
            self.here = end
            return token
        return ""

    def sum(self) -> _Node:
        left = self.product()
        while sign := self.taken("+", "-"):
            left = _apply(sign, left, self.product())
        return left

    def product(self) -> _Node:
        left = self.signed()
        while sign := self.taken("*", "/"):
            left = _apply(sign, left, self.signed())
        return left

    def signed(self) -> _Node:
        minus = False
        while sign := self.taken("+", "-"):
            minus ^= sign == "-"
        node = self.single()
        return _apply("-", node) if minus else node

    def single(self) -> _Node:
        kind, token, end = self.next()
        if kind == "name":
            return self.name(token)
        if kind == "sign" and token == "(":
            self.here = end
            (node,) = self.bracket(1)
            return node
        if kind in ("number", "fraction", "mixed", "dashed"):
            self.here = end
            return self.number(kind, token)
        return self.fail(f"a number or a name is missing before '{token}'" if kind else "it ends too early")

    def bracket(self, most: int) -> tuple[_Node, ...]:
        """One sum, or up to `most` with commas between, to the closing bracket."""
        self.depth += 1
        if self.depth > DEEPEST:
            self.fail(f"there are over {DEEPEST} brackets inside each other")
        parts = [self.sum()]
        while len(parts) < most and self.taken(","):
            parts.append(self.sum())
        if not self.taken(")"):
            _, token, _ = self.next()
            if token == ",":
                self.fail("a comma stands where none can be. Write decimals with a point: 7.5, not 7,5")
            self.fail(f"a sign such as + or * is missing before '{token}'" if token else "a bracket is not closed")
        self.depth -= 1
        return tuple(parts)

    def number(self, kind: str, token: str) -> _Node:
        if kind == "dashed":
            whole, top, bottom = re.split("[-/]", token)
            ways = f"{whole} {top}/{bottom}, or {whole} - {top}/{bottom} for the difference"
            self.fail(f"'{token}' can mean two things. Write {ways}")
        if kind == "mixed":
            whole, fraction = token.split(maxsplit=1)
            if Fraction(fraction) >= 1:
                self.fail(f"the fraction after the {whole} is not less than one")
            exact = int(whole) + Fraction(fraction)
        else:
            exact = Fraction(token)
        if exponent := _EXPONENT.match(self.text, self.here):
            self.fail(f"'{token}{exponent[0]}' is not written as a plain number. Write it out")
        if unit := _UNIT.match(self.text, self.here):
            self.here = unit.end()
            exact *= UNITS[unit[1]] / self.unit
        return _Number(exact, float(exact))

    def name(self, token: str) -> _Node:
        start = self.here + len(self.text[self.here :]) - len(self.text[self.here :].lstrip())
        name = self.longest_known(token)
        self.here = start + len(name)
        opens = self.taken("(")
        if name in ("min", "max"):
            if not opens:
                self.fail(f"'{name}' needs brackets: {name}(a, b)")
            return _apply(name, *self.bracket(LONGEST))
        if opens:
            self.fail(f"'{name}(' looks like a call; only min(...) and max(...) can be used")
        if name in RESERVED:
            self.fail(f"a number is missing before '{name}'")
        self.names[name] = None
        return _Name(name)

    def longest_known(self, token: str) -> str:
        """The longest known name the token starts with, up to a hyphen; the whole token if none is known."""
        name = token
        while name not in self.known and "-" in name:
            name = name.rpartition("-")[0]
        return name if name in self.known else token
