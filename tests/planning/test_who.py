"""Who may do it: three questions, each with its own strictness."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.model.workshop import Rule, Who
from sequencer.planning.who import in_words, may_do, rule_findings
from tests.made import knowledge, workshop


def test_the_stricter_answer_is_taken_question_by_question() -> None:
    assert Who("student", "beside", "none").stricter(Who("staff", "room", "instructed")) == Who("staff", "beside", "instructed")


def test_sign_off_does_not_lower_supervision() -> None:
    assert Who("student", "watching", "signed-off").looser_than(Who("student", "beside", "none"))


@pytest.mark.parametrize(
    ("who", "text"),
    [
        (Who("staff", "beside", "signed-off"), "staff only"),
        (Who("student", "watching", "signed-off"), "students signed off for it, with an adult watching"),
        (Who("student", "room", "none"), "students, with an adult in the room"),
        (Who("nobody", "room", "none"), "nobody: leave it alone"),
    ],
)
def test_words_for_who(who: Who, text: str) -> None:
    assert in_words(who) == text


def _drill() -> tuple[object, str, object]:
    kind = knowledge().stations["pillar-drill"]
    name = next(iter(kind.operations))
    return kind, name, kind.operations[name]


def test_a_rule_that_tightens_needs_no_name() -> None:
    kind, name, operation = _drill()
    school = replace(workshop(), rules=(Rule("pillar-drill", operator="staff"),))
    assert may_do(kind, name, operation, school).operator == "staff"  # type: ignore[arg-type]
    assert rule_findings(school, knowledge()) == ()


def test_a_rule_that_loosens_without_name_and_reason_does_not_count_and_is_an_error() -> None:
    kind, name, operation = _drill()
    default = may_do(kind, name, operation, replace(workshop(), rules=()))  # type: ignore[arg-type]
    school = replace(workshop(), rules=(Rule("pillar-drill", supervision="room", gate="none"),))
    assert may_do(kind, name, operation, school) == default  # type: ignore[arg-type]
    (finding,) = rule_findings(school, knowledge())
    assert (finding.level, finding.code) == ("error", "unnamed-loosening")


def test_a_named_loosening_counts_and_is_printed() -> None:
    kind, name, operation = _drill()
    school = replace(workshop(), rules=(Rule("pillar-drill", supervision="room", by="Head of technology", why="a class of six"),))
    assert may_do(kind, name, operation, school).supervision == "room"  # type: ignore[arg-type]
    (finding,) = rule_findings(school, knowledge())
    assert finding.what == (
        "The school has loosened the cautious default for pillar-drill: a class of six (decided by Head of technology)."
    )


def test_a_rule_about_nothing_known_is_an_error() -> None:
    (finding,) = rule_findings(replace(workshop(), rules=(Rule("pilar-drill"),)), knowledge())
    assert (finding.level, finding.code) == ("error", "unknown-rule")


def test_the_rule_for_the_operation_is_read_after_that_for_its_station_whatever_the_order_of_the_file() -> None:
    kind, name, operation = _drill()
    loose = Rule("pillar-drill", operator="student", supervision="room", gate="none", by="Head", why="small class")
    strict = Rule(name, operator="staff")
    for rules in ((loose, strict), (strict, loose)):
        assert may_do(kind, name, operation, replace(workshop(), rules=rules)).operator == "staff"  # type: ignore[arg-type]
