"""What both files share: strict mappings, text, names, counts, and one item standing for a list of one."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, BeforeValidator, Field, GetCoreSchemaHandler, WithJsonSchema
from pydantic.annotated_handlers import GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from sequencer.model.fields import STRICT
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

Words = Annotated[str, Field(min_length=1)]
"""Text that must say something."""

Count = Annotated[int, AfterValidator(_count), WithJsonSchema({"type": "integer", "minimum": 1, "maximum": MOST_ALIKE})]
"""How many in one finished thing."""


def _listed(value: Any) -> Any:
    return value if isinstance(value, (list, tuple)) else (value,)


class _Several:
    """Marks a tuple of which a single item may stand without its list."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(_listed, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        many = handler(schema)
        return {"anyOf": [many["items"], many]}


SEVERAL = _Several()


def _pairs(value: Any) -> Any:
    """Pairs of faces: `bottom`, `{left: top}`, or a list of either."""
    pairs: list[tuple[str, str]] = []
    for item in _listed(value):
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
