"""The published JSON form of a class plan and its schema. Files are written whole or not at all."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from sequencer.model.class_plan import ClassPlan
from sequencer.plan_file import write_whole


@cache
def _adapter() -> TypeAdapter[ClassPlan]:
    return TypeAdapter(ClassPlan)


def class_plan_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of a class plan."""
    schema = _adapter().json_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "Plan of lessons", **schema}


def class_plan_json(plan: ClassPlan) -> bytes:
    """The class plan as JSON; equal plans give equal bytes."""
    return _adapter().dump_json(plan, indent=2) + b"\n"


def read_class_plan(text: bytes | str) -> ClassPlan:
    """A class plan from its JSON form. pydantic's ValidationError if it is none."""
    return _adapter().validate_json(text)


def write_class_plan(plan: ClassPlan, file: Path) -> None:
    """Write a class plan. OSError if the folder cannot be written; then nothing is left behind."""
    write_whole(file, class_plan_json(plan))
