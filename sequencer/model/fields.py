"""Types of the fields a person writes: lengths, faces, edges, angles.

They are plain floats and names inside; the notes on them let pydantic read what was typed (an expression of sizes, an
inch fraction, a part's own name for a face) through the `Reading` given as validation context. Without a context only
numbers and the six face names are taken.
"""

from __future__ import annotations

import re
from math import isfinite
from typing import Annotated, Any, Literal, Protocol, runtime_checkable

from pydantic import AfterValidator, BeforeValidator, ConfigDict, Field, GetCoreSchemaHandler, ValidationInfo, WithJsonSchema
from pydantic.annotated_handlers import GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from sequencer.model.frame import FACES, FaceName, axis_of

STRICT = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)

_WRITTEN = re.compile(r"[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)")


@runtime_checkable
class Reading(Protocol):
    """What turns typed text into values while a file is read."""

    def length(self, text: str) -> float:
        """A length in mm from an expression; ValueError with a sentence for the person."""
        ...

    def number(self, text: str) -> float:
        """A plain number, such as an angle, from an expression; ValueError with a sentence for the person."""
        ...

    def face(self, text: str) -> FaceName:
        """A face from its name or the part's own name for it; ValueError with a sentence for the person."""
        ...


def _length(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, str) and isinstance(info.context, Reading):
        try:
            return info.context.length(value)
        except ValueError as error:
            raise PydanticCustomError("length", "{says}", {"says": str(error)}) from error
    return value


def _number(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, str) and isinstance(info.context, Reading):
        try:
            return info.context.number(value)
        except ValueError as error:
            raise PydanticCustomError("number", "{says}", {"says": str(error)}) from error
    return value


def written_out(text: str) -> str:
    """What is wrong with a number that is not written as a workshop writes it, such as 1e3 or 1_000; empty for any other text.
    All numbers of all files are read alike: with a sign, figures and a decimal point."""
    try:
        value = float(text)
    except ValueError:
        return ""
    if not isfinite(value) or _WRITTEN.fullmatch(text.strip()):
        return ""
    out = f"{value:f}".rstrip("0").rstrip(".") if 1e-6 <= abs(value) < 1e9 else ""
    return f"'{text}' is not written as a plain number." + (
        f" Write it out: {out}." if out else " Write its figures out, without an exponent."
    )


def _plain(value: Any) -> Any:
    if isinstance(value, str) and (fault := written_out(value)):
        raise PydanticCustomError("number", "{says}", {"says": fault})
    return value


def _number_name(value: Any) -> Any:
    if isinstance(value, str) and not re.fullmatch("0|[1-9][0-9]*", value):
        plain = value.strip().lstrip("0")
        remedy = f"Write {plain}." if re.fullmatch("[1-9][0-9]*", plain) else "Write a whole number in plain figures, such as 8."
        raise PydanticCustomError("name", "'{text}' is not how such a number is written", {
            "text": value, "why": "Two ways of writing one number would be two entries of which one is lost.", "remedy": remedy,
        })  # fmt: skip
    return value


def _face(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, str) and isinstance(info.context, Reading):
        try:
            return info.context.face(value)
        except ValueError as error:
            raise PydanticCustomError("face", "{says}", {"says": str(error)}) from error
    return value


def _edge(value: Any, info: ValidationInfo) -> Any:
    if not isinstance(value, str | list | tuple):
        return value
    typed = value.split("/") if isinstance(value, str) else value
    names = [_face(name.strip() if isinstance(name, str) else name, info) for name in typed]
    if len(names) != 2 or any(name not in FACES for name in names):
        raise PydanticCustomError(
            "edge", "an edge is written as the two faces that meet in it, such as inside/top; this is '{text}'", {"text": value}
        )
    if axis_of(names[0]) == axis_of(names[1]):
        raise PydanticCustomError("edge", "{first} and {second} never meet in an edge", {"first": names[0], "second": names[1]})
    return tuple(names)


def _edges(value: Any, info: ValidationInfo) -> Any:
    edges: list[Any] = []
    for item in [value] if isinstance(value, str) else value if isinstance(value, list | tuple) else []:
        if isinstance(item, str) and "/" not in item and (face := _face(item.strip(), info)) in FACES:
            edges.extend((face, other) for other in FACES if axis_of(other) != axis_of(face))
        else:
            edges.append(item)
    return edges or value


def _written(value: str) -> str:
    if value and not value.strip():
        raise PydanticCustomError(
            "blank", "nothing is written here but blanks", {"remedy": "Write a value or leave the key out."}
        )
    return value


def _answer(value: str) -> str:
    if value and not any(letter.isalpha() for letter in value):
        raise PydanticCustomError(
            "no-answer",
            "'{text}' is no answer: it has not one letter",
            {"text": value, "why": "It is printed as who decided, or why, and somebody asks.", "remedy": "Write it in words."},
        )
    return value


Written = Annotated[str, Field(min_length=1), AfterValidator(_written)]
"""Text that says something: more than blanks."""

Answer = Annotated[str, Field(min_length=1), AfterValidator(_written), AfterValidator(_answer)]
"""Who decided something, or why, in words."""

AnswerIfGiven = Annotated[str, AfterValidator(_answer)]
"""The same where it may be left out."""


class OneOrMore:
    """Marks a tuple of which a single item may stand without its list."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        def listed(value: Any) -> Any:
            return [value] if isinstance(value, str | dict) else value

        return core_schema.no_info_before_validator_function(listed, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        several = handler(schema)
        return {"anyOf": [several["items"], several]}


ONE_OR_MORE = OneOrMore()

WRITTEN_OUT = BeforeValidator(_plain)
"""Refuses text that is a number with an exponent; takes all else."""

Plain = Annotated[float, WRITTEN_OUT]
"""A number that is no sum: figures and a decimal point, no exponent."""

NumberName = Annotated[int, BeforeValidator(_number_name), Field(ge=0)]
"""A whole number by which a thing is known, such as a gauge: never signed, and without a nought in front."""

_LENGTH_SCHEMA = {
    "anyOf": [{"type": "number"}, {"type": "string"}],
    "description": "a length: a number, a fraction such as 3 1/2, a name from sizes, or a sum of them",
}

Length = Annotated[float, BeforeValidator(_length), Field(gt=0), WithJsonSchema(_LENGTH_SCHEMA)]
"""A length over zero, mm."""

Distance = Annotated[float, BeforeValidator(_length), Field(ge=0), WithJsonSchema(_LENGTH_SCHEMA)]
"""A length of zero or more, mm."""

Offset = Annotated[float, BeforeValidator(_length), WithJsonSchema(_LENGTH_SCHEMA)]
"""A length of either sign, mm."""

_FACE_SCHEMA = {
    "type": "string",
    "description": f"a face: {', '.join(FACES)}, or the part's own name for one",
    "examples": list(FACES),
}

Face = Annotated[FaceName, BeforeValidator(_face), WithJsonSchema(_FACE_SCHEMA)]
"""One of the six faces, or the part's own name for it."""

Edge = Annotated[
    tuple[FaceName, FaceName],
    BeforeValidator(_edge),
    WithJsonSchema({"type": "string", "description": "the two faces that meet in the edge, such as inside/top"}),
]
"""The edge where two faces meet, written inside/top."""

_ANGLE_SCHEMA = {"anyOf": [{"type": "number"}, {"type": "string"}], "description": "an angle in degrees, over 0 and under 90"}

_SLOPE_SCHEMA = {"anyOf": [{"type": "number"}, {"type": "string"}], "description": "a slope of 1 in so many: 4 to 12"}

Slope = Annotated[float, BeforeValidator(_number), Field(ge=4, le=12), WithJsonSchema(_SLOPE_SCHEMA)]
"""The slope of a dovetail: how far along it runs out by 1."""

Faces = Annotated[tuple[Face, ...], Field(min_length=1), ONE_OR_MORE]
"""One face or a list of faces."""

Edges = Annotated[
    tuple[Edge, ...],
    BeforeValidator(_edges),
    Field(min_length=1),
    WithJsonSchema(
        {
            "anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}, "minItems": 1}],
            "description": "edges such as inside/top, or a face for the four edges round it; one or a list",
        }
    ),
]
"""Edges; a face's name stands for the four edges round it."""

AxisWord = Literal["length", "width", "thickness"]
"""A direction in the part: along its length, its width or its thickness."""

Angle = Annotated[float, BeforeValidator(_number), Field(gt=0, lt=90), WithJsonSchema(_ANGLE_SCHEMA)]
"""An angle in degrees, over 0 and under 90."""

At = Annotated[dict[Face, Distance], Field(min_length=1, max_length=2)]
"""A spot on a face by its distances from one or two edges: {left: 40, bottom: 20}. What is left out is centred."""

Spots = Annotated[tuple[At, ...], ONE_OR_MORE]
"""One spot or a list of spots."""
