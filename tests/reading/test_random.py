"""Whatever stands in a file, the answer is a job or workshop, or a list of findings."""

from __future__ import annotations

import re
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as some

from sequencer.findings import Finding, Unusable
from sequencer.reading.job import job_of
from sequencer.reading.tree import parse_tree, read_tree
from sequencer.reading.workshop import workshop_of

from .files import JOB, WORKSHOP

ODD = [
    "1/0", "-1", "3 1/2", "on", "", "nan", "1e400", "based_on", "change", "crossings", "under", "over", "choices", "decisions",
    "in", "shoulder", "kind", "tenon", "a -> b", "top/left", "allowance", "together", "without",
]  # fmt: skip
WORDS = sorted({*re.findall(r"[\w-]+", JOB + WORKSHOP), *ODD})
SECTIONS = ["sizes", "crossings", "choices", "overall", "finish", "assemblies", "decisions", "glue"]

VALUES = some.recursive(
    some.sampled_from(WORDS) | some.text("abc019.,-+*/()'\" ", max_size=8),
    lambda inner: some.lists(inner, max_size=3) | some.dictionaries(some.sampled_from(WORDS), inner, max_size=4),
    max_leaves=12,
)


def answered(text: str) -> bool:
    """Reads the text as either file; whether each answer is one of the two there may be."""
    findings: list[Finding] = []
    for read in (job_of, workshop_of):
        try:
            read(parse_tree(text, "a.yaml"))
        except Unusable as error:
            findings += error.findings or [Finding("error", "", "", "")]
    return all(found.level == "error" and found.what and found.place for found in findings)


@settings(deadline=None)
@given(some.text(max_size=200) | some.text("abc:{}[],&*!|>'\"%@`#-? \n\t0", max_size=200))
def test_any_text(text: str) -> None:
    assert answered(text)


@given(some.binary(max_size=300))
@settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_bytes(tmp_path: Path, raw: bytes) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(raw)
    try:
        text = read_tree(path).data is not None
    except Unusable as error:
        text = bool(error.findings)
    assert text


@settings(deadline=None)
@given(some.sampled_from([JOB, WORKSHOP]), some.data())
def test_a_good_file_with_pieces_exchanged(good: str, data: some.DataObject) -> None:
    """Values, keys and brackets of a good file replaced by others."""
    pieces = re.split(r"([\w/.-]+|[{}\[\]:,])", good)
    for _ in range(data.draw(some.integers(1, 4))):
        spot = data.draw(some.integers(0, len(pieces) - 1))
        pieces[spot] = data.draw(some.sampled_from([*WORDS, "{", "}", "[", "]", ":", ",", "\n", "  "]))
    assert answered("".join(pieces))


@settings(deadline=None)
@given(some.data())
def test_a_job_with_anything_in_any_section(data: some.DataObject) -> None:
    """Each section may hold any values at all, written as flow YAML."""

    def written(value: object) -> str:
        if isinstance(value, dict):
            return "{" + ", ".join(f"'{key}': {written(each)}" for key, each in value.items()) + "}"
        if isinstance(value, list):
            return "[" + ", ".join(map(written, value)) + "]"
        return "'" + str(value).replace("'", "''") + "'"

    lines = JOB.splitlines(keepends=True)
    section = data.draw(some.sampled_from(SECTIONS))
    kept = "".join(line for line in lines if not line.startswith(f"{section}:"))
    assert answered(f"{kept}{section}: {written(data.draw(VALUES))}\n")
    part = f"parts:\n  new: {written(data.draw(some.dictionaries(some.sampled_from(WORDS), VALUES, max_size=5)))}"
    assert answered(JOB.replace("parts:", part))
    joint = f"joints:\n  new: {written(data.draw(some.dictionaries(some.sampled_from(WORDS), VALUES, max_size=5)))}"
    assert answered(JOB.replace("joints:", joint))
