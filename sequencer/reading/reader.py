"""Turns what was typed into values: lengths by the file's unit and sizes, faces by the part's own names."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from sequencer.model.frame import FACES, FaceName
from sequencer.reading.expressions import UNITS, ExpressionError, Unit, parse
from sequencer.reading.sizes import Sizes
from sequencer.reading.words import in_short, nearest

LONGEST: Final = 100_000.0
"""mm: what is longer is a slip."""

NO_SIZES: Final = Sizes({}, {}, frozenset())


class Reader:
    """The `Reading` of a file: one for the job, one for each part that has names of its own for faces.

    An error with an empty text means: it follows from another one, which is told where it was made.
    """

    def __init__(self, sizes: Sizes = NO_SIZES, unit: Unit = "mm", faces: Mapping[str, FaceName | None] | None = None) -> None:
        self.sizes = sizes
        self.unit: Unit = unit
        self.faces = faces or {}
        self.used: set[str] = set(sizes.used)
        self._known = {**dict.fromkeys(sizes.broken, 0.0), **sizes.values}
        self._factor = float(UNITS[unit])
        self._read: dict[str, float] = {}

    def with_faces(self, faces: Mapping[str, FaceName | None]) -> Reader:
        """The same reader for a part with its own names for faces; `None` for a name that stands for no face."""
        reader = Reader(self.sizes, self.unit, faces)
        reader.used, reader._read = self.used, self._read
        return reader

    def number(self, text: str) -> float:
        """A plain number from an expression, in the file's unit if it is made of sizes. ExpressionError if it is none."""
        if text not in self._read:
            expression = parse(text, self._known, self.unit)
            self.used.update(expression.names)
            if any(name in self.sizes.broken for name in expression.names):
                raise ExpressionError("")
            self._read[text] = expression.value(self._known)
        return self._read[text]

    def length(self, text: str) -> float:
        """A length in mm from an expression. ExpressionError if it is none or over 100 m."""
        value = self.number(text) * self._factor
        if abs(value) > LONGEST:
            raise ExpressionError(f"'{text}' comes to {value / 1000:.0f} metres; the most is {LONGEST / 1000:.0f} metres.")
        return value

    def face(self, text: str) -> FaceName:
        """A face from its name or the part's own name for it. ExpressionError with the nearest name if it is none."""
        if text in FACES:
            return text
        if text in self.faces:
            if own := self.faces[text]:
                return own
            raise ExpressionError("")
        near = nearest(text, (*FACES, *self.faces))
        advice = f"Did you mean '{near}'?" if near else f"The faces are {in_short((*FACES, *self.faces))}."
        raise ExpressionError(f"'{text}' is no face of this part. {advice}")
