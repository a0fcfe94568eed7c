"""The published JSON form of a class plan and its schema. Files are written whole or not at all."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from sequencer.model.class_plan import NO_TIMETABLE, ClassPlan
from sequencer.plan_file import write_whole


@cache
def _adapter() -> TypeAdapter[ClassPlan]:
    return TypeAdapter(ClassPlan)


def class_plan_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of a class plan."""
    schema = _adapter().json_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "Plan of lessons", **schema}


def class_plan_json(plan: ClassPlan) -> bytes:
    """The class plan as JSON; equal plans give equal bytes. No session has a `day` where the timetable is not stated: whoever
    reads the file would take a day that nobody has agreed for the lesson's own."""
    stated = all(finding.code != NO_TIMETABLE for finding in plan.findings)
    without = None if stated else {"lessons": {"__all__": {"day"}}, "staff_sessions": {"__all__": {"day"}}}
    return _adapter().dump_json(plan, indent=2, exclude=without) + b"\n"


def read_class_plan(text: bytes | str) -> ClassPlan:
    """A class plan from its JSON form. pydantic's ValidationError if it is none."""
    return _adapter().validate_json(text)


def write_class_plan(plan: ClassPlan, file: Path) -> None:
    """Write a class plan. OSError if the folder cannot be written; then nothing is left behind."""
    write_whole(file, class_plan_json(plan))
