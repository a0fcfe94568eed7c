"""The sheets of a class plan: which there are, what each is made of."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

from sequencer.model.class_plan import ClassPlan
from sequencer.model.plan import Plan
from sequencer.paper.course_words import Lessons
from sequencer.paper.lesson_plan import lesson_plan
from sequencer.paper.seat_cards import CHANGE, seat_cards
from sequencer.paper.seat_lines import DONE
from sequencer.paper.sign_off_register import sign_off_register
from sequencer.paper.technician_list import NEVER_ALONE, technician_list
from sequencer.paper.wall_chart import wall_chart
from sequencer.paper.writing import Kind, Written, write_sheets

LESSON_SHEETS: Mapping[str, str] = {
    "lesson-plan": "Lesson plan",
    "wall-chart": "Wall chart",
    "seat-cards": "Seat cards",
    "technician-list": "Technician's list",
    "sign-off-register": "Register of demonstrations and sign-offs",
}
"""The sheets by name, with the title each prints."""


def write_lesson_sheets(
    classes: ClassPlan,
    plan: Plan,
    out: Path,
    *,
    day: date,
    only: tuple[str, ...] = (),
    page: str = "a4",
    progress: Callable[[str], None] | None = None,
) -> Written:
    """Writes the sheets of the lessons named in `only` (all without) as HTML and PDF into `out`, which is made if need be.

    Unusable if a name is no sheet, the page size is not known or the folder cannot be written.
    """
    return write_sheets(lesson_kinds(Lessons(classes, plan)), plan, out, day=day, only=only, page=page, progress=progress)


def lesson_kinds(course: Lessons) -> dict[str, Kind]:
    """How each sheet is made."""
    made = {
        "lesson-plan": Kind(LESSON_SHEETS["lesson-plan"], "lesson-plan", lambda page, spare: lesson_plan(course, page, spare)),
        "wall-chart": Kind(LESSON_SHEETS["wall-chart"], "wall-chart", lambda page, spare: wall_chart(course, page, spare), True),
        "seat-cards": Kind(
            LESSON_SHEETS["seat-cards"],
            "seat-cards",
            lambda page, spare: seat_cards(course, page, spare),
            about=lambda page: {"change": CHANGE, "when_done": DONE},
        ),
        "technician-list": Kind(
            LESSON_SHEETS["technician-list"],
            "technician-list",
            lambda page, spare: technician_list(course, page, spare),
            about=lambda page: {"never_alone": NEVER_ALONE},
        ),
        "sign-off-register": Kind(
            LESSON_SHEETS["sign-off-register"],
            "sign-off-register",
            lambda page, spare: sign_off_register(course, page, spare),
            landscape=True,
        ),
    }
    return {name: made[name] for name in LESSON_SHEETS}
