"""The JSON Schemas: right in themselves, and of one mind with the reader."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import jsonschema
import pytest

from sequencer.features import feature_kinds
from sequencer.reading.schema import job_schema, workshop_schema
from sequencer.reading.tree import parse_tree, read_tree

from .files import JOB, WORKSHOP, changed
from .test_format_page import plain

EXAMPLES = Path(__file__).resolve().parent.parent.parent / "examples"
JOBS, WORKSHOPS = sorted(EXAMPLES.glob("*/job.yaml")), sorted(EXAMPLES.glob("workshops/*.yaml"))


def mistakes(schema: dict[str, Any], text: str) -> list[str]:
    found = jsonschema.Draft202012Validator(schema).iter_errors(plain(parse_tree(text, "a.yaml").data))
    return [".".join(map(str, each.absolute_path)) for each in found]


@pytest.mark.parametrize("schema", [job_schema(), workshop_schema()], ids=["job", "workshop"])
def test_it_is_a_schema(schema: dict[str, Any]) -> None:
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_it_is_the_same_every_time() -> None:
    assert (job_schema(), workshop_schema()) == (job_schema(), workshop_schema())


def test_every_kind_of_feature_is_in_it() -> None:
    features = job_schema()["$defs"]["PartForm"]["properties"]["features"]
    (entry,) = features["patternProperties"].values()
    assert entry["oneOf"] == [{"$ref": f"#/$defs/feature-{kind}"} for kind in feature_kinds()]
    for kind in feature_kinds():
        own = job_schema()["$defs"][f"feature-{kind}"]
        assert own["properties"]["kind"]["const"] == kind
        assert "name" not in own["properties"]
        assert own["additionalProperties"] is False


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.parent.name)
def test_every_example_job_fits(path: Path) -> None:
    jsonschema.Draft202012Validator(job_schema()).validate(plain(read_tree(path).data))


@pytest.mark.parametrize("path", WORKSHOPS, ids=lambda path: path.stem)
def test_every_example_workshop_fits(path: Path) -> None:
    jsonschema.Draft202012Validator(workshop_schema()).validate(plain(read_tree(path).data))


def test_the_small_files_fit_also_where_text_looks_like_something_else() -> None:
    assert mistakes(job_schema(), changed(JOB, ("job: Box", "job: 3\nnote: no\nformat: 1"))) == []
    assert mistakes(workshop_schema(), changed(WORKSHOP, ("year: Year 8", "year: 8"))) == []


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ("job: Box", "job: Box\ncolour: red", ""),
        ("form: sheet", "form: shet", "stock.panel.form"),
        ("count: 2, stock", "count: 0, stock", "parts.end"),
        ("kind: groove", "kind: grove", "parts.side"),
        ("depth: 6", "depth: 6, wide: 3", "parts.side"),
        ("fixed: glue", "fixed: gum", "joints.corner.fixed"),
        ("gauge: 8", "gauge: eight", "hardware.screws.gauge"),
        ("part: end.1, ", "", "joints.corner"),
    ],
)
def test_it_finds_what_the_reader_finds(old: str, new: str, where: str) -> None:
    assert mistakes(job_schema(), changed(JOB, (old, new))) == [where]
