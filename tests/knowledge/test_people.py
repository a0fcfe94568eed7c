"""Names in a workshop file that mean nothing are said, by every command that reads it."""

from __future__ import annotations

from dataclasses import replace

from sequencer.knowledge.people import people_findings
from tests.made import knowledge, workshop


def test_what_the_record_names_that_is_no_station_is_said() -> None:
    shop = replace(workshop(), signed_off=("pillar-dril",), instructed=("hand-sawing/unknown",), all_ready=("bogus",))
    found = {each.subject: each for each in people_findings(shop, knowledge())}
    assert set(found) == {"signed_off", "instructed", "all_ready"}
    assert "Did you mean 'pillar-drill'?" in found["signed_off"].remedy
    assert "hand-sawing/mitre-box" in found["instructed"].remedy


def test_a_way_of_work_belongs_under_what_students_were_shown() -> None:
    assert not people_findings(replace(workshop(), instructed=("hand-sawing/mitre-box",)), knowledge())
    (said,) = people_findings(replace(workshop(), signed_off=("hand-sawing/mitre-box",)), knowledge())
    assert "which is a way of work" in said.what
    assert "under `signed_off` write hand-sawing." in said.remedy


def test_one_student_is_no_pair_and_a_pair_is_shown_together() -> None:
    shop = replace(workshop(), pairs=True, students=1, shown_in=1)
    assert [each.code for each in people_findings(shop, knowledge())] == ["odd-pairs", "pair-is-shown"]
