"""What both files share: strict mappings, text, names, counts, pairs of faces."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, BeforeValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from sequencer.model.fields import ONE_OR_MORE, STRICT, Written
from sequencer.reading.words import NAME, as_name

MOST_ALIKE = 200
"""Alike parts in one thing."""


class Form(BaseModel):
    """A mapping in a file: unknown keys are refused, nothing changes after reading."""

    model_config = STRICT


def _name(text: str) -> str:
    if NAME.fullmatch(text):
        return text
    advice = f" Write '{as_name(text)}'." if as_name(text) else ""
    says = f"'{text}' cannot be a name: names are lower-case letters and digits, with hyphens between words.{advice}"
    raise PydanticCustomError("name", "{says}", {"says": says})


def _count(number: int) -> int:
    if number < 1:
        raise PydanticCustomError("count", "{says}", {"says": f"The count must be at least 1; this is {number}."})
    if number > MOST_ALIKE:
        says = f"The count is {number}; more than {MOST_ALIKE} alike parts in one thing are not planned."
        why = "The count is for one finished thing, not for the class: how many are made follows from the workshop file."
        raise PydanticCustomError("count", "{says}", {"says": says, "why": why})
    return number


Name = Annotated[str, AfterValidator(_name), WithJsonSchema({"type": "string", "pattern": f"^{NAME.pattern}$"})]
"""A name the file gives to something: kebab-case."""

Format = Annotated[Literal["1"], WithJsonSchema({"enum": [1, "1"]})]
"""The version of a file format; there is one."""

Texts = Annotated[tuple[str, ...], ONE_OR_MORE]
"""One text or a list of them."""

Words = Written
"""Text that must say something."""

Count = Annotated[int, AfterValidator(_count), WithJsonSchema({"type": "integer", "minimum": 1, "maximum": MOST_ALIKE})]
"""How many in one finished thing."""


def _pairs(value: Any) -> Any:
    """Pairs of faces: `bottom`, `{left: top}`, or a list of either."""
    pairs: list[tuple[str, str]] = []
    for item in value if isinstance(value, (list, tuple)) else (value,):
        if isinstance(item, str) and item:
            pairs.append((item, item))
        elif isinstance(item, dict) and item and all(isinstance(other, str) and other for other in item.values()):
            pairs.extend(item.items())
        else:
            says = "Write a face both pieces have, such as bottom, or {left: top}: its own face first, then the other's."
            raise PydanticCustomError("pairs", "{says}", {"says": says})
    return tuple(pairs)


_PAIR = {"anyOf": [{"type": "string"}, {"type": "object", "additionalProperties": {"type": "string"}, "minProperties": 1}]}

Pairs = Annotated[
    tuple[tuple[str, str], ...],
    BeforeValidator(_pairs),
    WithJsonSchema({"anyOf": [*_PAIR["anyOf"], {"type": "array", "items": _PAIR}]}),
]
"""Pairs of faces, the entering piece's own first."""
