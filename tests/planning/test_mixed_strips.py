"""One strip for different parts of one profile: how long it may be, how it is laid out and drawn, what the proof notices.

Rails of 120 mm and posts of 150, 30 x 20 mm, each with the same groove right along; a rail has a hole besides.
"""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.model.job import Job
from sequencer.model.plan import Plan, Task
from sequencer.model.stock_lists import Strip, StripPiece
from sequencer.model.workshop import Workshop
from sequencer.paper.drawing import picture
from sequencer.paper.job_card import ROOMS
from sequencer.paper.pictured import Pictured
from sequencer.paper.strip_pictures import strip_picture
from sequencer.planning.planner import make_plan
from sequencer.planning.strips import shared_blanks
from sequencer.proving.making import carry_out
from sequencer.reading.job import read_job
from tests.made import knowledge, workshop
from tests.planning.test_student_strips import RAILS

LAID = [("A 1", 25), ("A 2", 148), ("A 3", 271), ("A 4", 394), ("B 1", 517), ("B 2", 670)]
"""25 to square the end; then each piece with 3 behind it for the saw: 120 + 3 four times, 150 + 3 once."""


@pytest.fixture(scope="module")
def rails(tmp_path_factory: pytest.TempPathFactory) -> Job:
    file: Path = tmp_path_factory.mktemp("rails") / "job.yaml"
    file.write_text(RAILS, encoding="utf-8")
    return read_job(file)[0]


@pytest.fixture(scope="module")
def planned(rails: Job) -> Plan:
    return make_plan(rails, workshop(), knowledge())


def changed(drawn: Job, part: str, **given: object) -> Job:
    return replace(drawn, parts={**drawn.parts, part: replace(drawn.parts[part], **given)})  # type: ignore[arg-type]


def of_stock(drawn: Job, longest: float) -> Job:
    return replace(drawn, stock={name: replace(each, lengths=(longest,)) for name, each in drawn.stock.items()})


def strips(drawn: Job, shop: Workshop | None = None) -> list[str]:
    return [strip.name for strip in make_plan(drawn, shop or workshop(), knowledge()).strips]


def ploughing(longest: float) -> Workshop:
    """The workshop with a bench for ploughing that takes pieces so long."""
    shop = workshop()
    bench = shop.stations["ploughing"]
    return replace(shop, stations={**shop.stations, "ploughing": replace(bench, figures={**bench.figures, "longest": longest})})


def the_strip(made: Plan) -> Strip:
    (strip,) = made.strips
    return strip


def test_pieces_of_two_lengths_lie_one_behind_the_other_with_a_cut_behind_each(planned: Plan) -> None:
    strip = the_strip(planned)
    assert [(piece.called, piece.start) for piece in strip.pieces] == LAID
    assert strip.length == 670 + 150 + 25
    assert (strip.parts, strip.width, strip.thickness) == (("rail", "post"), 30, 20)


def test_a_strip_is_no_longer_than_its_stock(rails: Job) -> None:
    """In 844 mm there is no room. Of 1200 mm the mitre saw that cuts the blanks off has too little to hold behind 845, and no
    work is done in another way for a strip; of 1300 it has enough."""
    parts, working = [rails.parts["rail"], rails.parts["post"]], knowledge().working
    assert {blank.length for blank in shared_blanks(parts, working, 845.0, {}).values()} == {845.0}
    assert shared_blanks(parts, working, 844.0, {}) == {}
    assert [strips(of_stock(rails, longest)) for longest in (844.0, 1200.0)] == [["rail", "post"]] * 2
    assert strips(of_stock(rails, 1300.0)) == ["rail+post"]


@pytest.mark.parametrize(("longest", "shared"), [(845.0, True), (844.0, False)])
def test_a_strip_is_no_longer_than_the_bench_takes_it_is_ploughed_at(rails: Job, longest: float, shared: bool) -> None:
    assert strips(rails, ploughing(longest)) == (["rail+post"] if shared else ["rail", "post"])


def test_a_third_part_that_has_no_room_has_a_strip_of_its_own(rails: Job) -> None:
    """Two stays of 110 make the strip 845 + 2 x 113 = 1071 mm, and 1200 are taken; five more of 110 go beyond it."""
    stay = replace(rails.parts["post"], name="stay", letter="C", length=110.0)
    two = replace(rails, parts={**rails.parts, "stay": stay})
    assert strips(two) == ["rail+post+stay"]
    assert strips(changed(two, "stay", count=5)) == ["rail+post", "stay"]


def groove(drawn: Job, part: str, **given: float) -> Job:
    own = drawn.parts[part].features
    return changed(drawn, part, features={**own, "furrow": replace(own["furrow"], **given)})


@pytest.mark.parametrize(
    ("drawn", "why"),
    [
        (lambda job: groove(job, "post", distance=11.0), "the groove lies elsewhere"),
        (lambda job: groove(job, "post", depth=5.0), "the groove is less deep"),
        (lambda job: changed(job, "post", face_edge="top"), "another edge is the face edge"),
        (lambda job: changed(job, "post", width=28.0), "the posts are narrower"),
    ],
)
def test_parts_of_another_profile_have_a_strip_of_their_own(rails: Job, drawn: object, why: str) -> None:
    assert callable(drawn)
    assert strips(drawn(rails)) == ["rail", "post"], why


def test_all_along_is_done_before_any_piece_of_either_part_is_cut_off(planned: Plan) -> None:
    place = {task.id: number for number, task in enumerate(planned.tasks)}
    first = min(place[f"{part}/{act}"] for part in ("rail", "post") for act in ("first-end/square", "length/cut"))
    assert all(place[f"{part}/{act}"] < first for part in ("rail", "post") for act in ("face-marks/mark", "furrow/cut"))
    steps = {task: step for step in planned.steps if step.kind == "work" for task in step.tasks}
    assert steps["rail/furrow/cut"] is steps["post/furrow/cut"]
    assert steps["rail/length/cut"] is steps["post/length/cut"]
    # Only the rail has anything cut into it by itself; nothing of the post is marked out.
    assert "rail/mark-out/mark" in place
    assert "post/mark-out/mark" not in place


def texts(svg: str, kind: str) -> list[str]:
    return re.findall(rf'<text class="{kind}"[^>]*>([^<]*)</text>', svg)


def test_the_picture_of_the_strip_names_each_piece_with_its_own_length(planned: Plan) -> None:
    drawn = strip_picture(the_strip(planned), 160.0)
    assert drawn.readable
    assert texts(drawn.svg, "piece") == ["A 1: 120", "A 2: 120", "A 3: 120", "A 4: 120", "B 1: 150", "B 2: 150"]
    assert texts(drawn.svg, "size") == ["25", "148", "271", "394", "517", "670", "845"]


def test_the_card_draws_one_stick_with_the_pieces_of_both(rails: Job, planned: Plan) -> None:
    given = Pictured(planned, rails, carry_out(planned, rails))
    (step,) = (step for step in planned.steps if step.kind == "work" and "rail/furrow/cut" in step.tasks)
    drawn = next(each for room in ROOMS.values() if (each := picture(step, given, *room)).readable)
    assert texts(drawn.svg, "stick") == ["the whole stick"]
    assert texts(drawn.svg, "piece") == [called for called, _ in LAID]
    (hole,) = (step for step in planned.steps if step.kind == "work" and "rail/hole/cut" in step.tasks)
    assert hole.id not in given.sticks


def laid(made: Plan, *pieces: StripPiece, **given: float) -> Plan:
    strip = the_strip(made)
    return replace(made, strips=(replace(strip, pieces=pieces or strip.pieces, **given),))  # type: ignore[arg-type]


def failures(made: Plan, drawn: Job) -> list[tuple[str, str]]:
    return [(look.check, look.says) for look in carry_out(made, drawn).proof.failures]


def test_the_proof_looks_at_the_room_of_every_piece_of_both_parts(rails: Job, planned: Plan) -> None:
    assert failures(planned, rails) == []
    pieces = the_strip(planned).pieces
    # The first post 10 mm nearer: it lies on the last rail, which ends at 514.
    nearer = (*pieces[:4], replace(pieces[4], start=504.0), pieces[5])
    assert ("strip", "B 1 begins before A 4 ends") in failures(laid(planned, *nearer), rails)
    assert ("strip", "the strip holds 1 of post, and the list of blanks says other numbers") in failures(
        laid(planned, *pieces[:5]), rails
    )
    # Sawn by hand with a kerf of 1, within the 3 left for the cut: the last post ends where it is laid, 670 + 150.
    says = "with kerfs of 1 mm B 2 ends 820 mm along the strip; there are 819 mm"
    assert ("strip", says) in failures(laid(planned, length=819.0), rails)


def test_the_proof_notices_another_profile_where_the_posts_lie(rails: Job, planned: Plan) -> None:
    """The groove of the posts 1 mm less deep on its card: 6 mm2 of section, 6 mm3 in each millimetre."""

    def shallower(task: Task) -> Task:
        if task.id != "post/furrow/cut":
            return task
        settings = (replace(each, value=5.0) if each.value == 6.0 and "depth" in each.name else each for each in task.settings)
        return replace(task, settings=tuple(settings))

    damaged = replace(planned, tasks=tuple(map(shallower, planned.tasks)))
    says = "the stick is not worked alike where rail and post lie: 6 mm3 in each millimetre of it"
    assert ("strip", says) in failures(damaged, rails)
