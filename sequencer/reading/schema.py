"""JSON Schemas (draft 2020-12) of the job file and the workshop file, from the forms and the feature kinds themselves."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel

from sequencer.features import feature_kinds
from sequencer.reading.job_file import (
    AssembliesForm,
    ChoiceForm,
    CrossingForm,
    DecisionsForm,
    ExtensionsForm,
    FinishesForm,
    HardwareForm,
    JobForm,
    JointForm,
    OverallForm,
    PartForm,
    StockForm,
    VariantForm,
)
from sequencer.reading.kinds import kind_schema
from sequencer.reading.words import NAME
from sequencer.reading.workshop_file import CountedForm, StationForm, WorkshopForm

Json = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"

JOB_ENTRIES: Mapping[str, tuple[type[BaseModel], ...]] = {
    "stock": (StockForm,),
    "parts": (PartForm, VariantForm),
    "joints": (JointForm,),
    "crossings": (CrossingForm,),
    "hardware": (HardwareForm,),
    "overall": (OverallForm,),
    "choices": (ChoiceForm,),
}
"""The forms of the entries of each section of a job."""

JOB_SECTIONS: Mapping[str, type[BaseModel]] = {
    "finish": FinishesForm,
    "assemblies": AssembliesForm,
    "decisions": DecisionsForm,
    "extension": ExtensionsForm,
}
"""The sections of a job that are a form as a whole."""

WORKSHOP_ENTRIES: Mapping[str, tuple[type[BaseModel], ...]] = {"stations": (StationForm,), "counted": (CountedForm,)}


def job_schema() -> Json:
    """The schema of the job file, with every feature kind."""
    schema = _whole(JobForm, JOB_ENTRIES, JOB_SECTIONS)
    kinds = []
    for kind in feature_kinds():
        own = dict(kind_schema(kind))
        schema["$defs"] |= own.pop("$defs", {})
        schema["$defs"][f"feature-{kind}"] = own
        kinds.append({"$ref": f"#/$defs/feature-{kind}"})
    features = schema["$defs"]["PartForm"]["properties"]["features"]
    features |= _named({"oneOf": kinds})
    typed: Json = _as_typed(schema)
    return typed


def workshop_schema() -> Json:
    """The schema of the workshop file."""
    typed: Json = _as_typed(_whole(WorkshopForm, WORKSHOP_ENTRIES, {}))
    return typed


def _whole(
    form: type[BaseModel], entries: Mapping[str, tuple[type[BaseModel], ...]], sections: Mapping[str, type[BaseModel]]
) -> Json:
    """A form's schema with the forms of its sections and their entries."""
    schema: Json = {"$schema": DIALECT, **form.model_json_schema()}
    definitions: Json = schema.setdefault("$defs", {})

    def reference(part: type[BaseModel]) -> Json:
        own = part.model_json_schema()
        definitions.update(own.pop("$defs", {}))
        definitions[part.__name__] = own
        return {"$ref": f"#/$defs/{part.__name__}"}

    for section, forms in entries.items():
        references = [reference(entry) for entry in forms]
        schema["properties"][section] |= _named(references[0] if len(references) == 1 else {"oneOf": references})
    for section, part in sections.items():
        schema["properties"][section] |= reference(part)
    return schema


def _named(entry: Json) -> Json:
    """A mapping from names to such entries."""
    return {"patternProperties": {f"^{NAME.pattern}$": entry}, "additionalProperties": False}


def _as_typed(schema: Any) -> Any:
    """The schema for what an editor sees, where `on` may be a truth value and `3` a number while the reader takes the text
    that was typed. Keys are left out, never empty; titles that only repeat the key are dropped."""
    if isinstance(schema, list):
        return [_as_typed(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    plain = {key: _as_typed(value) for key, value in schema.items() if not (key == "default" and value is None)}
    if isinstance(plain.get("title"), str) and plain.get("type") != "object":
        del plain["title"]
    alternatives = [each for each in plain.get("anyOf", ()) if each != {"type": "null"}]
    if len(alternatives) == 1 and len(plain["anyOf"]) > 1:
        del plain["anyOf"]
        return {**alternatives[0], **plain}
    if plain.get("type") == "string" and not {"enum", "const", "pattern", "format"} & plain.keys():
        plain["type"] = ["string", "number", "boolean"]
    if plain.get("type") == "boolean":
        return {**{key: value for key, value in plain.items() if key != "type"}, "enum": [True, False, "yes", "no", "on", "off"]}
    if plain.get("type") == "array" and "minLength" in plain:
        plain["minItems"] = plain.pop("minLength")
    return plain
