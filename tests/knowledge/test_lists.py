"""The lists: published figures, and properties that hold whatever the figures are."""

from __future__ import annotations

from dataclasses import fields
from datetime import date
from pathlib import Path
from typing import get_args, get_type_hints

import pytest

from sequencer.findings import Unusable
from sequencer.knowledge.forms.glues import FinishKind, Glue
from sequencer.knowledge.forms.regions import DatedLimit
from sequencer.knowledge.loading import load_knowledge

KNOWLEDGE = load_knowledge()


def test_screw_shanks_follow_the_published_formula() -> None:
    # Wood-screw data table: shank in inches = 0.060 + 0.013 x gauge.
    for gauge, screw in KNOWLEDGE.screws.items():
        assert screw.shank == pytest.approx((0.060 + 0.013 * gauge) * 25.4, abs=0.01)


def test_screw_heads_follow_the_rule_of_sixteenths() -> None:
    # Woodsmith newsletter, 21 October 2021: gauge = (head width in sixteenths of an inch x 2) - 2.
    for gauge, screw in KNOWLEDGE.screws.items():
        assert screw.head / 25.4 * 16 * 2 - 2 == pytest.approx(gauge, abs=0.1)


def test_screw_holes_fit_the_screw_and_rise_with_the_gauge() -> None:
    rows = [KNOWLEDGE.screws[gauge] for gauge in sorted(KNOWLEDGE.screws)]
    for row in rows:
        assert row.pilot_softwood < row.pilot_hardwood < row.shank < row.clearance < row.head
    for name in ("shank", "head", "clearance", "pilot_softwood", "pilot_hardwood"):
        sizes = [getattr(row, name) for row in rows]
        assert sizes == sorted(set(sizes)), name


@pytest.mark.parametrize(
    ("material", "radial", "tangential"),
    [
        ("beech", 0.00190, 0.00431),  # Wood Handbook FPL-GTR-190, Table 13-5, American beech
        ("oak", 0.00180, 0.00365),  # white oak (commercial)
        ("ash", 0.00169, 0.00274),  # white ash
        ("maple", 0.00165, 0.00353),  # sugar maple
        ("birch", 0.00256, 0.00338),  # yellow birch
    ],
)
def test_coefficients_are_those_of_the_wood_handbook(material: str, radial: float, tangential: float) -> None:
    found = KNOWLEDGE.materials[material]
    assert (found.radial, found.tangential) == (radial, tangential)


@pytest.mark.parametrize(
    ("material", "radial", "tangential", "dry"),
    [
        ("tulipwood", 4.6, 8.2, 30.0),  # Wood Handbook, Table 4-3: green to ovendry, %
        ("western-red-cedar", 2.4, 5.0, 22.0),
        ("beech", 5.5, 11.9, 30.0),
    ],
)
def test_coefficients_agree_with_shrinkage(material: str, radial: float, tangential: float, dry: float) -> None:
    """C = s / (F - (F - 10) s), F the fibre saturation point: worked out from the two tables of the handbook."""
    found = KNOWLEDGE.materials[material]
    for coefficient, shrinkage in ((found.radial, radial / 100), (found.tangential, tangential / 100)):
        assert coefficient == pytest.approx(shrinkage / (dry - (dry - 10) * shrinkage), abs=0.00001)


def test_wood_moves_more_along_the_rings_and_sheets_hardly() -> None:
    for material in KNOWLEDGE.materials.values():
        if material.radial is not None and material.tangential is not None:
            assert material.radial < material.tangential
        if material.hardness == "sheet":
            assert material.tangential is None
            assert material.radial is None


def test_every_wood_says_something_of_its_dust_and_none_that_it_is_harmless() -> None:
    for material in KNOWLEDGE.materials.values():
        assert "dust" in material.dust.lower() or "sensitiser" in material.dust
        assert "harmless" not in material.dust


def test_glues_hold_longer_than_they_are_open() -> None:
    for glue in KNOWLEDGE.glues.values():
        assert glue.open_time < glue.cramp_time <= glue.cure_time
        assert glue.hazards
    # NAVEDTRA 14119 gives 50 degrees Fahrenheit for PVA.
    assert KNOWLEDGE.glues["pva"].coldest == 10


def test_drying_oils_heat_their_rags() -> None:
    for finish in KNOWLEDGE.finishes.values():
        assert finish.self_heating_rags == ("oily-rags" in finish.hazards)
        if finish.kind == "oil":
            assert finish.self_heating_rags


def test_there_is_a_glue_and_a_finish_of_every_family() -> None:
    assert len(KNOWLEDGE.glues) >= 10
    assert len(KNOWLEDGE.finishes) >= 10
    for form, things in ((Glue, KNOWLEDGE.glues), (FinishKind, KNOWLEDGE.finishes)):
        families = set(get_args(get_type_hints(form)["family"])) - {""}
        assert {each.family for each in things.values()} == families


def test_every_glue_and_finish_but_plain_water_based_glue_brings_statements_of_its_label() -> None:
    for name, thing in {**KNOWLEDGE.glues, **KNOWLEDGE.finishes}.items():
        codes = {code for hazard in thing.hazards for code in KNOWLEDGE.hazards[hazard].ghs}
        assert codes, name
        assert thing.at is not None, name


def test_what_sensitises_burns_or_vapours_strongly_is_staffs() -> None:
    assert {name for name, glue in KNOWLEDGE.glues.items() if glue.staff} == {
        "casein", "contact", "epoxy", "instant", "polyurethane", "urea-formaldehyde", "weatherproof-pva",
    }  # fmt: skip
    assert {name for name, finish in KNOWLEDGE.finishes.items() if finish.staff} == {
        "lacquer", "oil-paint", "oil-varnish", "polyurethane-varnish",
    }  # fmt: skip


def test_nut_oils_say_so_and_only_some_finishes_are_for_food() -> None:
    nutty = {name for name, finish in KNOWLEDGE.finishes.items() if "nut-oil" in finish.hazards}
    drying = {name for name, finish in KNOWLEDGE.finishes.items() if finish.self_heating_rags}
    # What has a drying oil in it that its name does not tell may hold tung oil; linseed is no nut.
    assert nutty == drying - {"linseed-oil"} >= {"danish-oil", "hardwax-oil", "oil-varnish", "tung-oil", "walnut-oil"}
    assert "unless the product's own sheet rules it out" in KNOWLEDGE.hazards["nut-oil"].happens
    assert {name for name, finish in KNOWLEDGE.finishes.items() if finish.food} == {
        "tung-oil", "walnut-oil", "mineral-oil", "beeswax",
    }  # fmt: skip


def own_lists(folder: Path, name: str, text: str) -> Path:
    lists = folder / "operations" / "lists"
    lists.mkdir(parents=True)
    (lists / f"{name}.yaml").write_text(text, encoding="utf-8")
    return folder


def test_a_school_that_says_less_of_a_glue_or_finish_is_told_so(tmp_path: Path) -> None:
    text = "contact: {name: contact adhesive, open_time: 20, cramp_time: 25, cure_time: 60, resists: D4, source: label of 2026}\n"
    (change,) = load_knowledge(own_lists(tmp_path / "glue", "glues", text)).changes
    looser = " ".join(change.looser)
    for said in (
        "students may put it on",
        "stands more wet: D4",
        "`open_time` is 20 instead of 15",
        "`cramp_time` is 25 instead of 30",
        "`cure_time` is 60 instead of",
        "`coldest` is not said instead of",
        "no hazard contact-adhesive",
    ):
        assert said in looser, said
    text = "lacquer: {name: lacquer, kind: solvent, dry_time: 30, food: true, source: measured in our room}\n"
    (change,) = load_knowledge(own_lists(tmp_path / "finish", "finishes", text)).changes
    looser = " ".join(change.looser)
    for said in (
        "students may put it on",
        "may touch food",
        "`dry_time` is 30 instead of",
        "`family` reads otherwise",
        "no hazard solvent-finish",
    ):
        assert said in looser, said


@pytest.mark.parametrize(
    ("which", "entry", "code"),
    [
        ("glues", "name: x glue, open_time: 9, cramp_time: 5, cure_time: 60, source: from memory", "times"),
        ("glues", "name: x glue, open_time: 9, cramp_time: 50, cure_time: 6, source: from memory", "times"),
        ("glues", "name: x glue, open_time: 9, cramp_time: 50, cure_time: 60, resists: D9, source: from memory", "unknown-value"),
        ("finishes", "name: x oil, kind: oil, family: drying-oil, dry_time: 60, source: from memory", "drying-oil"),
        (
            "finishes",
            "name: x oil, kind: oil, self_heating_rags: true, dry_time: 60, source: from memory",
            "effect-without-hazard",
        ),
        ("finishes", "name: x oil, kind: oil, dry_time: 0, source: from memory", "greater-than"),
    ],
)
def test_an_entry_that_cannot_be_is_refused_with_its_line(tmp_path: Path, which: str, entry: str, code: str) -> None:
    with pytest.raises(Unusable) as refused:
        load_knowledge(own_lists(tmp_path, which, f"x: {{{entry}}}\n"))
    (finding,) = refused.value.findings
    assert finding.code == code
    assert finding.place is not None
    assert finding.place.line == 1


def test_play_lies_within_its_bounds() -> None:
    for fit in KNOWLEDGE.fits.values():
        assert fit.least <= fit.play <= fit.most


def in_force(region: str, about: str, day: date) -> list[DatedLimit]:
    return [
        limit
        for limit in KNOWLEDGE.limits
        if (limit.region, limit.about) == (region, about)
        and (not limit.starts or date.fromisoformat(limit.starts) <= day)
        and (not limit.ends or day <= date.fromisoformat(limit.ends))
    ]


def test_the_australian_dust_limit_changes_on_the_first_of_december() -> None:
    # Safe Work Australia: transition to 30 November 2026. The value afterwards is not verified, and says so.
    (before,) = in_force("AU", "dust-hardwood", date(2026, 11, 30))
    (after,) = in_force("AU", "dust-hardwood", date(2026, 12, 1))
    assert before.value == 1
    assert after.value == 0.5
    assert "not verified" in after.note
    assert "check locally" in after.source


def test_hardwood_dust_in_britain_and_the_european_union() -> None:
    # HSE wood dust page; Directive 2004/37/EC as amended by 2017/2398.
    assert [limit.value for limit in in_force("GB", "dust-hardwood", date(2026, 11, 24))] == [3]
    assert [limit.value for limit in in_force("EU", "dust-hardwood", date(2022, 6, 1))] == [3]
    assert [limit.value for limit in in_force("EU", "dust-hardwood", date(2026, 11, 24))] == [2]


def test_noise_in_britain() -> None:
    # Control of Noise at Work Regulations 2005, HSE WIS13.
    for kind, asked in (("noise", [80, 85, 87]), ("peak", [135, 137, 140])):
        levels = [f"{kind}-{level}" for level in ("action", "upper-action", "limit")]
        assert [limit.value for about in levels for limit in in_force("GB", about, date(2026, 11, 24))] == asked


def test_guards_and_holding_have_their_line() -> None:
    for items in (KNOWLEDGE.guards, KNOWLEDGE.holding):
        for item in items.values():
            assert item.line.endswith(".")
            assert item.what


def test_figures_of_the_bench_are_those_a_plan_carries() -> None:
    assert {name.replace("-", "_") for name in KNOWLEDGE.bench_figures} == {field.name for field in fields(KNOWLEDGE.bench)}
    assert all(figure.value <= 1 for figure in KNOWLEDGE.bench_figures.values() if figure.unit == "share")
    assert KNOWLEDGE.bench.tool_room == KNOWLEDGE.bench_figures["tool-room"].value


def test_figures_of_working_are_those_planning_takes() -> None:
    assert {name.replace("-", "_") for name in KNOWLEDGE.working_figures} == {field.name for field in fields(KNOWLEDGE.working)}
    assert all(figure.value <= 1 for figure in KNOWLEDGE.working_figures.values() if figure.unit == "share")
    assert KNOWLEDGE.working.strip_kerf == KNOWLEDGE.working_figures["strip-kerf"].value


def test_a_schools_own_bench_counts_and_is_said(tmp_path: Path) -> None:
    lists = tmp_path / "operations" / "lists"
    lists.mkdir(parents=True)
    text = "vice-opens: {value: 150, unit: mm, means: how far our vices open, source: common practice}\n"
    (lists / "bench.yaml").write_text(text, encoding="utf-8")
    own = load_knowledge(tmp_path)
    assert own.bench.vice_opens == 150
    assert own.bench.tool_room == KNOWLEDGE.bench.tool_room
    (change,) = own.changes
    assert change.about == "lists/bench/vice-opens"
    assert change.looser == ("plans are proved with 150 instead of 200",)


def test_a_schools_own_working_figure_counts_and_is_said(tmp_path: Path) -> None:
    lists = tmp_path / "operations" / "lists"
    lists.mkdir(parents=True)
    text = "over-length: {value: 15, unit: mm, means: waste on the length of a blank, source: common practice}\n"
    (lists / "working-figures.yaml").write_text(text, encoding="utf-8")
    own = load_knowledge(tmp_path)
    assert (own.working.over_length, own.working.over_width) == (15, KNOWLEDGE.working.over_width)
    (change,) = own.changes
    assert change.about == "lists/working-figures/over-length"
    assert change.looser == ("plans are made with 15 instead of 25",)


@pytest.mark.parametrize("name", ["bench", "working-figures"])
def test_a_share_of_more_than_the_whole_is_refused(name: str, tmp_path: Path) -> None:
    lists = tmp_path / "operations" / "lists"
    lists.mkdir(parents=True)
    key = {"bench": "face-share", "working-figures": "spare-share"}[name]
    (lists / f"{name}.yaml").write_text(
        f"{key}: {{value: 10, unit: share, means: a share, source: measured in our room}}\n", encoding="utf-8"
    )
    with pytest.raises(Unusable) as refused:
        load_knowledge(tmp_path)
    assert "10 is more than the whole" in str(refused.value.findings[0].what)
