"""Each feature kind as pydantic reads it and as JSON Schema says it. Built when a file first uses the kind."""

from __future__ import annotations

from functools import cache
from typing import Any

from pydantic import TypeAdapter

from sequencer.features import Feature, feature_kinds


@cache
def adapter(kind: str) -> TypeAdapter[Feature]:
    """What reads features of this kind. KeyError if there is no such kind."""
    return TypeAdapter(feature_kinds()[kind])


@cache
def kind_schema(kind: str) -> dict[str, Any]:
    """The JSON Schema of a feature of this kind as it stands in a job file: with `kind`, without the name that is its
    key there."""
    schema = adapter(kind).json_schema()
    properties = {key: value for key, value in schema["properties"].items() if key != "name"}
    return {
        **schema,
        "title": feature_kinds()[kind].title,
        "description": feature_kinds()[kind].says,
        "properties": {"kind": {"const": kind, "description": "the kind of feature"}, **properties},
        "required": ["kind", *schema.get("required", ())],
    }
