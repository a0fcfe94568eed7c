"""Regions, measures and dated figures: which of them count where and on which day, and what a school's own may do."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from sequencer.findings import Unusable
from sequencer.knowledge.forms.regions import DatedLimit
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.loading import load_knowledge
from sequencer.knowledge.overlay import change_findings
from sequencer.knowledge.regions import Held, changing_days, held, held_to, least_at, looser_than_least, region_named
from sequencer.planning.who import default_who
from tests.made import knowledge

BEFORE, AFTER = date(2026, 11, 30), date(2026, 12, 1)
"""The last day of the Australian exposure standards and the first of the limits that replace them."""
SHIPPED = ("generic", "australia", "new-zealand", "united-kingdom", "united-states", "european-union")
OUTSIDE = tuple(name for name in SHIPPED if name != "generic")


def days() -> list[date]:
    """Every day on which a figure changes, the day before it, and some others."""
    found = {date(2020, 1, 1), date(2026, 11, 24), BEFORE, AFTER, date(2030, 6, 1)}
    for each in knowledge().limits:
        for text in filter(None, (each.starts, each.ends)):
            found |= {date.fromisoformat(text) + timedelta(shift) for shift in (-1, 0, 1)}
    return sorted(day for day in found if day >= date(2020, 1, 1))


def at(region: str, about: str, day: date | None) -> Held | None:
    return held_to(about, region_named(region, knowledge()), knowledge(), day)


def test_the_six_regions_are_there_by_name_and_code() -> None:
    assert set(knowledge().regions) == set(SHIPPED)
    for asked, name in (("AU", "Australia"), ("gb", "United Kingdom"), ("UK", "United Kingdom"), ("New Zealand", "New Zealand")):
        assert region_named(asked, knowledge()).name == name


# Value, whose it is, and whether it counts there by itself or stands in for one that was not read.
@pytest.mark.parametrize(
    ("region", "about", "day", "value", "whose", "own"),
    [
        ("australia", "dust-hardwood", BEFORE, 1, "AU", True),
        ("australia", "dust-hardwood", AFTER, 0.5, "AU", True),
        ("australia", "dust-softwood", BEFORE, 5, "AU", True),
        ("australia", "dust-softwood", AFTER, 0.5, "AU", True),
        ("australia", "noise-limit", BEFORE, 85, "AU", True),
        ("australia", "noise-limit", AFTER, 85, "AU", True),
        ("new-zealand", "dust-hardwood", BEFORE, 1, "FR", False),
        ("new-zealand", "dust-hardwood", AFTER, 0.5, "AU", False),
        ("new-zealand", "dust-softwood", BEFORE, 1, "FR", False),
        ("new-zealand", "noise-limit", AFTER, 85, "AU", False),
        ("united-kingdom", "dust-hardwood", BEFORE, 3, "GB", True),
        ("united-kingdom", "dust-hardwood", AFTER, 3, "GB", True),
        ("united-kingdom", "dust-softwood", AFTER, 5, "GB", True),
        ("united-kingdom", "noise-action", BEFORE, 80, "GB", True),
        ("united-kingdom", "noise-limit", AFTER, 87, "GB", True),
        ("united-kingdom", "hood-gap", BEFORE, 6.4, "US", False),
        ("united-kingdom", "hands-saw-bench", BEFORE, 300, "GB", True),
        ("united-states", "dust-hardwood", BEFORE, 1, "US-NIOSH", True),
        ("united-states", "dust-softwood", AFTER, 1, "US-NIOSH", True),
        ("united-states", "noise-limit", BEFORE, 85, "US-NIOSH", True),
        ("united-states", "noise-action", AFTER, 85, "US", True),
        ("united-states", "knife-gap", AFTER, 12.7, "US", True),
        ("united-states", "hands-saw-bench", BEFORE, 152, "US", True),
        ("european-union", "dust-hardwood", date(2023, 1, 17), 3, "EU", True),
        ("european-union", "dust-hardwood", date(2023, 1, 18), 2, "EU", True),
        ("european-union", "dust-hardwood", AFTER, 2, "EU", True),
        ("european-union", "dust-softwood", BEFORE, 1, "FR", False),
        ("european-union", "knife-gap", BEFORE, 8, "EU", True),
        ("generic", "dust-hardwood", BEFORE, 1, "FR", True),
        ("generic", "dust-hardwood", AFTER, 0.5, "AU", True),
        ("generic", "dust-softwood", BEFORE, 1, "FR", True),
        ("generic", "dust-softwood", AFTER, 0.5, "AU", True),
        ("generic", "noise-action", BEFORE, 80, "GB", True),
        ("generic", "noise-limit", BEFORE, 85, "AU", True),
        ("generic", "hood-gap", BEFORE, 6.4, "US", True),
        ("generic", "planer-short", AFTER, 305, "US", True),
        ("generic", "hands-saw-bench", AFTER, 300, "GB", True),
    ],
)
def test_what_holds_by_region_and_day(region: str, about: str, day: date, value: float, whose: str, own: bool) -> None:
    found = at(region, about, day)
    assert found is not None
    assert (found.limit.value, found.limit.region, found.own) == (value, whose, own)


@pytest.mark.parametrize("day", [*days(), None], ids=str)
@pytest.mark.parametrize("region", OUTSIDE)
def test_generic_is_never_looser_than_any_region(region: str, day: date | None) -> None:
    there = held(region_named(region, knowledge()), knowledge(), day)
    assert there
    for found in there:
        generic = at("generic", found.about, day)
        assert generic is not None
        assert not found.measure.looser(generic.limit.value, found.limit.value), found.about


@pytest.mark.parametrize("day", [*days(), None], ids=str)
@pytest.mark.parametrize("region", SHIPPED)
def test_what_is_held_to_is_never_looser_than_a_record_that_counts_there(region: str, day: date | None) -> None:
    where = region_named(region, knowledge())
    for each in knowledge().limits:
        if each.holds_on(day) and each.region in (*where.counts, "any"):
            found = at(region, each.about, day)
            assert found is not None
            assert not found.measure.looser(found.limit.value, each.value), (region, each)


@pytest.mark.parametrize("day", days(), ids=str)
@pytest.mark.parametrize("region", SHIPPED)
def test_without_a_day_no_figure_is_looser_than_on_any_day(region: str, day: date) -> None:
    for found in held(region_named(region, knowledge()), knowledge(), day):
        undated = at(region, found.about, None)
        assert undated is not None
        assert not found.measure.looser(undated.limit.value, found.limit.value)


def test_what_was_not_read_tightens_and_never_loosens() -> None:
    for each in knowledge().limits:
        if each.source.startswith("from memory") or "not verified" in each.note:
            assert not each.verified
    low, high = at("united-kingdom", "hood-gap", AFTER), at("generic", "planer-short", AFTER)
    assert low is not None
    assert high is not None
    assert [each.value for each in low.besides] == [12]
    assert not high.limit.verified


def test_a_law_without_such_a_figure_is_not_given_one() -> None:
    assert at("australia", "noise-action", AFTER) is None
    assert at("united-states", "vibration-limit", AFTER) is None
    assert at("new-zealand", "noise-action", AFTER) is not None


@pytest.mark.parametrize("name", ["atlantis", "", "US-NIOSH", "FR"])
def test_an_unknown_region_is_refused(name: str) -> None:
    with pytest.raises(Unusable) as refused:
        region_named(name, knowledge())
    assert refused.value.findings[0].code == "unknown-region"
    assert "generic" in refused.value.findings[0].remedy


@pytest.mark.parametrize("region", SHIPPED)
def test_an_unknown_day_is_refused(region: str) -> None:
    with pytest.raises(Unusable) as refused:
        held(region_named(region, knowledge()), knowledge(), date(2019, 12, 31))
    assert refused.value.findings[0].code == "unknown-day"


def test_a_day_between_two_records_is_refused_and_not_guessed() -> None:
    kept = tuple(each for each in knowledge().limits if not (each.region == "AU" and each.starts))
    with pytest.raises(Unusable, match="end before 2026-12-01"):
        held_to("dust-hardwood", knowledge().regions["australia"], replace(knowledge(), limits=kept), AFTER)


def test_every_region_says_what_to_record_who_signs_and_what_to_look_up() -> None:
    for region in knowledge().regions.values():
        assert len(region.record) >= 3
        assert region.sign_off
        assert region.review
        assert region.regulator
        assert date.fromisoformat(region.since) < date.fromisoformat(region.looked_up)
        assert region.sources


def test_shipped_defaults_of_who_may_use_a_machine_meet_every_region() -> None:
    asked = 0
    for name, kind in knowledge().stations.items():
        for least in least_at(name, knowledge().regions["generic"], knowledge()):
            for operation in kind.operations.values():
                who = default_who(kind, operation)
                asked += 1
                assert not looser_than_least(who.operator, who.supervision, who.gate, least), operation.name
    assert asked


def test_generic_asks_what_any_region_asks_of_who_may_use_a_machine() -> None:
    for region in knowledge().regions.values():
        for kind, least in region.least.items():
            assert least in least_at(kind, knowledge().regions["generic"], knowledge())
            assert least_at(kind, region, knowledge()) == (least,)


# The school's own folder.


def own(tmp_path: Path, name: str, text: str) -> Knowledge:
    path = tmp_path / "operations" / "lists" / f"{name}.yaml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return load_knowledge(tmp_path)


def record(**changed: object) -> str:
    row = {"region": "NZ", "about": "noise-limit", "value": 80, "unit": "dB(A)", "exchange": 3, "source": "our inspector 2026"}
    return "- {" + ", ".join(f'{key}: "{value}"' for key, value in (row | changed).items()) + "}\n"


def test_a_stricter_record_of_the_school_counts_and_loosens_nothing(tmp_path: Path) -> None:
    mine = own(tmp_path, "limits", record())
    (change,) = mine.changes
    assert not change.looser
    for region, value in (("new-zealand", 80), ("generic", 80), ("australia", 85)):
        found = held_to("noise-limit", mine.regions[region], mine, AFTER)
        assert found is not None
        assert found.limit.value == value


def test_a_record_that_loosens_what_stood_in_needs_who_and_why(tmp_path: Path) -> None:
    mine = own(tmp_path, "limits", record(value=90))
    (change,) = mine.changes
    assert change.looser == ("New Zealand is held to 90 dB(A) instead of 85, noise over a day, limit",)
    (finding,) = change_findings(mine)
    assert (finding.level, finding.code) == ("error", "unnamed-loosening")


def test_a_record_beside_a_stricter_one_changes_nothing(tmp_path: Path) -> None:
    mine = own(tmp_path, "limits", record(region="AU", value=95))
    assert not mine.changes[0].looser
    found = held_to("noise-limit", mine.regions["australia"], mine, AFTER)
    assert found is not None
    assert found.limit.value == 85


def test_a_lower_level_that_waits_longer_before_it_halves_the_time_loosens_what_stood_in(tmp_path: Path) -> None:
    """85 dB(A) at 3 dB is passed by 100 dB(A) in 15 minutes; 84.9 dB(A) at 5 dB only in an hour."""
    mine = own(tmp_path, "limits", record(value=84.9, exchange=5))
    assert mine.changes[0].looser == ("New Zealand halves the time only 5 dB louder instead of 3, noise over a day, limit",)
    assert change_findings(mine)[0].code == "unnamed-loosening"


def test_of_levels_that_stand_in_each_that_asks_for_more_in_some_way_is_judged(tmp_path: Path) -> None:
    """Canada's row of a lower level and 5 dB stands in for New Zealand; Australia's 85 dB(A) at 3 dB still counts there."""
    mine = own(tmp_path, "limits", record(region="CA", value=84.9, exchange=5))
    found = held_to("noise-limit", mine.regions["new-zealand"], mine, AFTER)
    assert found is not None
    assert [(each.value, each.exchange) for each in found.judged] == [(84.9, 5), (85, 3)]
    assert not found.own
    (change,) = mine.changes
    assert not [each for each in change.looser if each.startswith("New Zealand")]
    assert [each for each in change.looser if each.startswith("Canada")] == []  # 87 dB(A) at 3 dB still counts there


def test_what_was_not_read_does_not_take_the_place_of_a_rule_that_halves_the_time_sooner(tmp_path: Path) -> None:
    mine = own(tmp_path, "limits", record(value=84.9, exchange=5, verified="false"))
    found = held_to("noise-limit", mine.regions["new-zealand"], mine, AFTER)
    assert found is not None
    assert {(each.value, each.exchange) for each in found.judged} >= {(84.9, 5), (85, 3)}
    assert not mine.changes[0].looser


@pytest.mark.parametrize("exchange", [0, 2.9, 5.1, 60])
def test_no_level_of_noise_has_another_rule_than_the_laws_know(tmp_path: Path, exchange: float) -> None:
    with pytest.raises(Unusable) as refused:
        own(tmp_path, "limits", record(exchange=exchange))
    (finding,) = refused.value.findings
    assert finding.code == "exchange"
    assert finding.what == f"{exchange:g} dB are said to halve the time; that is from 3 to 5."


REGION = """{name: %s, what: ours, counts: [AU, any], since: "2026-01-01", looked_up: "2026-11-01", regulator: ours, laws: [ours],
  record: [All of it.], sign_off: [Me], review: [Yearly.], sources: [our own rules]%s}
"""


def test_a_region_replaced_says_all_that_it_asks_for_less(tmp_path: Path) -> None:
    mine = own(tmp_path, "regions", f"australia: {REGION % ('Australia', ', without: [noise-limit]')}")
    (change,) = mine.changes
    told = "; ".join(change.looser)
    assert "no figure for noise-limit" in told
    assert "no “Who was consulted, and when.”" in told
    assert "who may use saw-bench is held to less" in told
    assert "`regulator` reads otherwise" in told


def test_a_code_moves_off_a_region_that_is_replaced(tmp_path: Path) -> None:
    text = f"australia: {REGION % ('Australia', '')}our-state: {REGION % ('Our state', ', codes: [AU]')}"
    mine = own(tmp_path, "regions", text)
    assert region_named("AU", mine).name == "Our state"
    assert mine.regions["australia"].codes == ()


def test_a_record_may_hold_until_the_last_day_there_is(tmp_path: Path) -> None:
    mine = own(tmp_path, "limits", record(starts="2027-01-01", ends="9999-12-31"))
    assert date(2027, 1, 1) in changing_days(mine)
    found = held_to("noise-limit", mine.regions["new-zealand"], mine, date.max)
    assert found is not None
    assert found.limit.value == 80


def test_an_added_region_says_what_it_is_not_held_to(tmp_path: Path) -> None:
    plain = own(tmp_path / "a", "regions", f"our-island: {REGION % ('Our island', '')}")
    new = "it is new, and nothing shipped is there to hold it against"
    assert [change.looser for change in plain.changes] == [(new,)]
    less = own(tmp_path / "b", "regions", f"our-island: {REGION % ('Our island', ', without: [dust-hardwood]')}")
    assert [change.looser for change in less.changes] == [(new, "no figure for dust-hardwood")]


def test_a_measure_turned_round_loosens(tmp_path: Path) -> None:
    called = knowledge().measures["noise-limit"].name
    text = f'noise-limit: {{name: "{called}", group: noise, unit: "dB(A)", stricter: higher, stations: [saw-bench]}}\n'
    (change,) = own(tmp_path, "measures", text).changes
    assert change.looser == (
        "higher figures count as stricter instead of lower ones",
        "printed only for saw-bench",
    )


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("limits", record(about="noise-limits"), "There is no measure in lists/measures.yaml called 'noise-limits'."),
        ("limits", record(region="Nz"), "There is no jurisdiction in lists/regions.yaml called 'Nz'."),
        ("limits", record(region="ZZ"), "There is no jurisdiction in lists/regions.yaml called 'ZZ'."),
        ("limits", record(value=-5), "must be more than 0"),
        ("limits", record(unit="mm"), "This is in mm; 'noise-limit' is in dB(A)."),
        ("limits", record(about="run-down", unit="s"), "A level of noise over a day needs `exchange`"),
        ("limits", record(starts="2026-13-01"), "'2026-13-01' is no day."),
        ("limits", record(starts="2026-12-01", ends="2026-11-30"), "It ends before it starts."),
        (
            "regions",
            f"isle: {REGION % ('Isle', ', least: {saw-bnch: {gate: signed-off, source: our own rules}}')}",
            "called 'saw-bnch'",
        ),
        ("regions", f"isle: {REGION % ('Isle', ', codes: [GB]')}", "'GB' also means"),
        ("regions", f"isle: {REGION % ('Isle', '')}".replace("[AU, any]", "[XX]"), "called 'XX'"),
        ("regions", f"isle: {REGION % ('Isle', '')}".replace("2026-01-01", "soon"), "'soon' is no day."),
        ("measures", "run: {name: run, group: saws, unit: s, stricter: lower, counts: [knife-gap]}\n", "'knife-gap' is in mm"),
    ],
)
def test_what_cannot_hold_is_refused_with_file_and_line(tmp_path: Path, name: str, text: str, said: str) -> None:
    with pytest.raises(Unusable) as refused:
        own(tmp_path, name, text)
    found = [finding for finding in refused.value.findings if said in str(finding)]
    assert found, [str(finding) for finding in refused.value.findings]
    assert found[0].place is not None
    assert found[0].place.file.endswith(f"{name}.yaml")
    assert found[0].place.line


def test_records_are_read_with_their_days() -> None:
    limit = DatedLimit(region="X", about="y", value=1, unit="mm", starts="2026-12-01", ends="2026-12-31", source="z")
    assert [limit.holds_on(date(2026, 12, day)) for day in (1, 31)] == [True, True]
    assert not limit.holds_on(BEFORE)
    assert not limit.holds_on(date(2027, 1, 1))
    assert limit.holds_on(None)
