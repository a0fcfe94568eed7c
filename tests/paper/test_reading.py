"""What the sheets of the examples say, graded as it is printed: short imperatives for students, plain words for adults.

Files of the knowledge are read one by one in `tests/knowledge/test_quality.py`; here the words that stages add between them
are read with them, with the figures of real plans.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import product

import pytest

from sequencer.knowledge.wording import sentences_of as sentences
from sequencer.model.plan import Plan
from sequencer.paper.job_card import card_words
from sequencer.paper.wording import CAUTION, DAY_NOTE, DECLARED_NOTE, REVIEW_TRIGGERS, check_words
from tests.knowledge.test_quality import MOST_GRADE, MOST_GRADE_OF_ADULTS, imperative
from tests.made import EXAMPLES, plan
from tests.reading_level import grade

SHOPS = ("full", "hand-tools", "well-equipped")
PLANS = tuple(product(EXAMPLES, SHOPS))
_SIZE = r"\d+(?:\.\d+)?(?: (?:mm|degrees?|min|hours))?"
_SIZES = re.compile(rf"{_SIZE}(?: \([A-Z, ]+\))?(?:(?:, | and ){_SIZE} \([A-Z, ]+\))*")
"""A size with its unit, or the sizes of several parts: each student reads the one of the part in hand."""
_LETTERS = re.compile(r"\b[A-Z](?:, [A-Z])*(?:,? (?:and|or) [A-Z])+\b")


def read(line: str) -> str:
    """A line as one student reads it, with one short size and one part."""
    return _LETTERS.sub("A", _SIZES.sub("6", line))


def named(line: str) -> bool:
    """Whether a line says no more than which goods to take or which work others do: their names are what they are."""
    return line.startswith(("Use: ", "Staff have done step", "Give "))


def for_students(made: Plan) -> Iterator[list[str]]:
    """Every set of sentences of the job card: a block with all it holds but its hazards, or a line between blocks."""
    yield [*sentences(made.note), *sentences(made.before_use)]
    for entry in card_words(made.steps):
        told = (entry.guard_line, entry.wear_line, entry.stop, entry.if_wrong, entry.notes)
        checks = " ".join(check_words(check) for check in entry.checks)
        yield [*entry.instructions, *sentences(checks), *(line for text in told for line in sentences(text))]
        for marker in entry.markers:
            yield sentences(marker)


def adults(made: Plan) -> Iterator[tuple[str, str]]:
    """Every paragraph of ours on the sheets for adults that a stage of planning writes, with its place."""
    for finding in made.findings:
        yield from ((finding.code, text) for text in (finding.what, finding.why, finding.remedy))
    yield from (("why", reason.sentence) for reason in made.reasons)
    yield from (("harm", reason.harm) for reason in made.reasons)
    yield from (("blank", blank.why) for blank in made.blanks)
    yield from (("strip", strip.why) for strip in made.strips)
    yield from (("note", note) for note in made.notes)
    yield from (("material", line) for line in made.materials)
    yield from (("noise", text) for line in made.noise for text in (line.text, line.measure))
    for step in made.steps:
        yield from (
            ("staff", read(line)) for line in (*step.instructions, *step.method, *step.notes, step.stop, step.if_wrong, step.feed)
        )
    for row in made.risks:
        yield from ((row.hazard, control.text) for control in (*row.controls, *row.more))
        yield from ((row.hazard, text) for text in (row.happens, row.first_aid, *row.stop_when))
    if made.region is not None:
        yield from (
            ("region", text) for text in (made.region.what, *made.region.record, *made.region.sign_off, *made.region.review)
        )
        yield from (("region", figure.note) for figure in made.region.figures)


@pytest.mark.parametrize(("example", "shop"), PLANS)
def test_every_sentence_of_a_job_card_is_one_short_imperative(example: str, shop: str) -> None:
    made = plan(example, shop)
    blocks = [[read(line) for line in block if not named(line)] for block in for_students(made) if block]
    aims = [*sentences(made.learning_aim), *sentences(made.extension)]
    assert sum(map(len, blocks)) > 200
    assert [line for block in (*blocks, aims) for line in block if not imperative(line)] == []
    assert [block for block in (*blocks, aims) if block and grade(" ".join(block)) > MOST_GRADE] == []


@pytest.mark.parametrize(("example", "shop"), PLANS)
def test_what_planning_writes_for_adults_can_be_read(example: str, shop: str) -> None:
    said = {(place, f"{text.rstrip('.')}.") for place, text in adults(plan(example, shop)) if len(text.split()) >= 8}
    assert len(said) > 150
    assert sorted((place, text) for place, text in said if grade(text) > MOST_GRADE_OF_ADULTS) == []


def test_what_every_sheet_says_to_adults_can_be_read() -> None:
    assert [text for text in (CAUTION, DAY_NOTE, DECLARED_NOTE, *REVIEW_TRIGGERS) if grade(text) > MOST_GRADE_OF_ADULTS] == []
