"""The reference page against the forms and the registry: every key, kind, figure and allowed word stands in it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from sequencer.features import feature_kinds
from sequencer.reading.kinds import kind_schema
from sequencer.reading.schema import job_schema, workshop_schema
from sequencer.reading.workshop_file import FIGURES

PAGE = (Path(__file__).resolve().parent.parent.parent / "examples" / "FORMAT.md").read_text(encoding="utf-8")
JOB, WORKSHOP = job_schema(), workshop_schema()
COMMON = ("kind", "when", "only", "note", "marking", "in")
"""Keys of every kind of feature; they stand once, before the table of kinds."""


def keys(schema: Any) -> Iterator[str]:
    """Every key anywhere in a schema."""
    if isinstance(schema, dict):
        if isinstance(schema.get("properties"), dict):
            yield from schema["properties"]
        for value in schema.values():
            yield from keys(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from keys(value)


def words(schema: Any) -> Iterator[str]:
    """Every word a key can be limited to."""
    if isinstance(schema, dict):
        if isinstance(schema.get("enum"), list):
            yield from (str(word) for word in schema["enum"] if word not in (True, False, "", 1))
        for value in schema.values():
            yield from words(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from words(value)


def in_code(text: str) -> set[str]:
    """Words that stand in backquotes in some text."""
    return {word for code in re.findall(r"`([^`]+)`", text) for word in re.findall(r"[\w-]+", code)}


def row(kind: str) -> str:
    """The row of the table of kinds that is about this one."""
    (found,) = [line for line in PAGE.splitlines() if line.startswith(f"| `{kind}` |") and line.count("|") == 4]
    return found


@pytest.mark.parametrize("schema", [JOB, WORKSHOP], ids=["job", "workshop"])
def test_every_key_and_every_word_stands_in_the_page(schema: dict[str, Any]) -> None:
    assert {*keys(schema), *words(schema)} - in_code(PAGE) == set()


@pytest.mark.parametrize("kind", feature_kinds())
def test_every_key_of_every_kind_stands_in_its_row(kind: str) -> None:
    assert set(keys(kind_schema(kind))) - set(COMMON) - in_code(row(kind)) == set()


@pytest.mark.parametrize("kind", feature_kinds())
def test_what_a_kind_needs_stands_before_what_it_may_have(kind: str) -> None:
    needed, _, optional = row(kind).split("|")[3].partition(";")
    schema = kind_schema(kind)
    if kind == "outline":  # needs one of two sets
        return
    assert in_code(needed) == set(schema["required"]) - {"kind"}
    assert set(schema["properties"]) - set(schema["required"]) - set(COMMON) == in_code(optional)


def test_every_figure_of_a_station_stands_in_the_page() -> None:
    assert set(FIGURES) - in_code(PAGE) == set()


def test_nothing_stands_in_a_table_that_is_not_there() -> None:
    first_cells = [line.split("|")[1] for line in PAGE.splitlines() if line.startswith("| `")]
    named = {word for cell in first_cells for word in re.findall(r"`([a-z][a-z0-9_-]*)`", cell)}
    lengths = {"long", "panel"}  # examples of a length
    assert named - {*keys(JOB), *keys(WORKSHOP), *feature_kinds(), *FIGURES} - lengths == set()


def blocks() -> list[dict[str, Any]]:
    """The indented examples of the page, as an editor sees them."""
    found = re.findall(r"(?:^ {4}.*\n|^\n(?= {4}))+", PAGE, re.MULTILINE)
    return [yaml.load(block, Loader=yaml.BaseLoader) for block in found]


def plain(value: Any) -> Any:
    """Text that looks like a number as a number, yes and no as truth values: what an editor's YAML gives the schema."""
    if isinstance(value, dict):
        return {key: plain(each) for key, each in value.items()}
    if isinstance(value, list):
        return [plain(each) for each in value]
    if re.fullmatch(r"-?\d+(\.\d+)?", value):
        return float(value) if "." in value else int(value)
    return {"yes": True, "true": True, "no": False, "false": False}.get(value, value)


def test_every_example_on_the_page_is_right() -> None:
    checked = 0
    for block in blocks():
        for key, value in block.items():
            schema = next((each for each in (JOB, WORKSHOP) if key in each["properties"]), None)
            if schema is None:  # a feature by its name
                schema = {**JOB, "properties": {key: {"$ref": f"#/$defs/feature-{value['kind']}"}}}
            part = {"$defs": schema["$defs"], **schema["properties"][key]}
            jsonschema.Draft202012Validator(part).validate(plain(value))
            checked += 1
    assert checked > 12
