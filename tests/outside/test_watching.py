"""How many students one adult has to watch at once, against BS 4163:2014."""

from __future__ import annotations

import pytest

from sequencer.classroom.things import Things
from tests.made import knowledge, plan, workshop

# BS 4163:2014, 9.1: at most 20 learners with one competent, qualified teacher in a work area, in England and Wales; as quoted in
# a research briefing to the National Assembly for Wales of 13 March 2018.
MOST = 20


def test_no_adult_watches_more_students_than_one_teacher_may_have() -> None:
    working = knowledge().working
    by_risk = [working.watched_machines, working.watched_powered, working.watched_edge_tools, working.watched_hand_saws]
    assert by_risk == sorted(by_risk)
    assert by_risk[-1] <= working.watched_benches <= MOST
    assert working.watched_gluing <= MOST
    assert working.one_teacher <= MOST, "a larger class than the standard has for one teacher is warned of"


@pytest.mark.parametrize("job", ["herb-caddy", "step-stool", "nest-box"])
def test_every_watched_step_takes_its_share_of_an_adult(job: str) -> None:
    made = plan(job, "full")
    things = Things(made, workshop("full"), knowledge())
    watched = [step for step in made.steps if step.kind == "work" and step.who.supervision == "watching"]
    assert watched
    for step in watched:
        assert things.attention(step) * MOST >= things.whole, step.title
    chiselled = [step for step in watched if step.station_kind == "chiselling"]
    assert all(things.attention(step) * 12 == things.whole for step in chiselled)
    glued = [step for step in made.steps if step.station_kind == "gluing" and step.kind == "work"]
    assert all(things.attention(step) * 8 == things.whole for step in glued)
