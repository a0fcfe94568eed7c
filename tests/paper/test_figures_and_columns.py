"""What the region asks of saws and planers beside the stations of the staff sheet, and the columns of the risk assessment."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from io import BytesIO
from xml.etree import ElementTree as ET

import pytest
from pypdf import PdfReader

from sequencer.model.plan import Plan
from sequencer.paper.pages import Drawings
from sequencer.paper.risk_assessment import RiskPage, risk_assessment
from sequencer.paper.sheets import laid_out, render
from sequencer.paper.wording import machine_figures
from sequencer.planning.planner import make_plan
from tests.made import drawings, job, knowledge, proved, workshop
from tests.paper.sample import make

DAY = date(2026, 12, 1)


def said_on_staff_sheet(plan: Plan, drawn: Drawings) -> str:
    root = ET.fromstring(render("staff-sheet", plan, drawn, DAY, "a4"))
    return " ".join(" ".join(root.itertext()).split())


# The floor grooves are sawn by staff in this plan, the blanks at the mitre saw. Figures of lists/limits.yaml.
def test_saw_figures_stand_once_beside_each_station_that_staff_set() -> None:
    plan, drawn, made = make()
    said = said_on_staff_sheet(plan, Drawings(plan, drawn, made, {}))
    for figure in (
        "riving knife to blade at most 8 mm (EU) and at least 3 mm (EU)",
        "tip of the riving knife below the highest tooth at most 2 mm (EU)",
        "crown guard above the work where set by hand at most 6.4 mm (US, 1/4 in)",
        "from switching off to standstill at most 10 s (GB)",
        "push stick where fence to blade is under 150 mm (any country)",
        "no hands beside a crosscut blade within 300 mm (GB)",
    ):
        assert said.count(figure) == 1
    assert "bridge guard" not in said  # no planer is used
    machines = {step.station_kind for step in plan.steps if machine_figures(plan, step.station_kind)}
    assert machines == {"saw-bench", "mitre-saw"}
    assert said.count("Set and checked; the law in force and the maker's figures come first") == len(machines)


def test_a_figure_that_stands_in_is_marked_and_the_school_s_own_counts() -> None:
    plan, _, _ = make()
    assert plan.region is not None
    figures = [replace(each, own=False) if each.name.startswith("tip") else each for each in plan.region.figures]
    marked = replace(plan, region=replace(plan.region, figures=tuple(figures)))
    assert "at most 2 mm (EU*)" in machine_figures(marked, "saw-bench")
    strict = replace(workshop(), limits={"hands-crosscut": 400.0})
    own = make_plan(job("herb-caddy"), strict, knowledge(), day=DAY)
    assert machine_figures(own, "mitre-saw") == "no hands beside a crosscut blade within 400 mm (the school's own)"


def test_noise_and_dust_are_no_figures_of_a_machine() -> None:
    plan, _, _ = make()
    assert "dB" not in machine_figures(plan, "saw-bench")
    assert machine_figures(plan, "chiselling") == ""
    assert machine_figures(replace(plan, region=None), "saw-bench") == ""


def test_the_caddy_s_sheets_keep_to_their_pages() -> None:
    plan = proved("herb-caddy")
    assert said_on_staff_sheet(plan, drawings("herb-caddy")).count("Staff preparation sheet Herb caddy") <= 5
    assert len(risk_assessment(plan, "a4")) <= 11


# There are more powered tools than one page has room to tell of with the blanks.
def test_what_staff_read_first_goes_on_as_many_pages_as_it_needs() -> None:
    plan = proved("herb-caddy", "well-equipped")
    html, pdf = laid_out("staff-sheet", plan, drawings("herb-caddy", "well-equipped"), DAY, "a4", lambda done, count: None)
    assert len(PdfReader(BytesIO(pdf)).pages) == html.count('<section class="page')
    said = " ".join(" ".join(ET.fromstring(html).itertext()).split())
    for title in (
        "Staff must look at this first",
        "Noise, vibration and dust of a day",
        "Blanks to cut",
        "Tools to lay out and count",
    ):
        assert title in said


@pytest.mark.parametrize(("name", "shop"), [("herb-caddy", "full"), ("herb-caddy", "hand-tools"), ("step-stool", "full")])
@pytest.mark.parametrize("spare", [0.0, 20.0])
def test_columns_hold_every_word_in_order_whatever_room_there_is(name: str, shop: str, spare: float) -> None:
    plan = make_plan(job(name), workshop(shop), knowledge(), day=DAY)

    def words(size: float) -> list[str]:
        pages = [entry for page in risk_assessment(plan, "a4", size) for entry in page.entries]
        runs = [
            run for page in pages if isinstance(page, RiskPage) for column in page.columns for each in column for run in each.runs
        ]
        return " ".join(f"{lead} {text}" for lead, text in runs).split()

    pages = [entry for page in risk_assessment(plan, "a4", spare) for entry in page.entries]
    assert all(isinstance(page, RiskPage) for page in pages)
    # Half the height parts the texts elsewhere; nothing is lost or said twice.
    assert words(spare) == words(90.0)
    for page in pages:
        if isinstance(page, RiskPage):
            for column in page.columns:
                assert column
                assert column[-1].kind != "heading"
