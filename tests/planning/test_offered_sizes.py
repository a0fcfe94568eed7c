"""Sizes that students may choose: each is tried in the workshop, and what it cannot make, or makes otherwise, is said."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from sequencer.findings import Finding
from sequencer.model.workshop import Workshop
from sequencer.pipeline import check
from sequencer.planning.offered_sizes import offered_findings
from sequencer.reading.job import read_job
from sequencer.reading.offered import not_tried, offered_jobs
from tests.made import ROOT, knowledge, workshop

NEST = ROOT / "examples/nest-box/job.yaml"


def found(path: Path, shop: Workshop) -> list[Finding]:
    drawn, _ = read_job(path)
    offered = ((each.name, each.value, each.job) for each in offered_jobs(path, drawn))
    return list(offered_findings(drawn, offered, shop, knowledge()))


def without(*stations: str) -> Workshop:
    shop = workshop()
    return replace(shop, stations={name: each for name, each in shop.stations.items() if name not in stations})


def test_the_job_is_read_with_each_size_offered() -> None:
    drawn, _ = read_job(NEST)
    others = list(offered_jobs(NEST, drawn))
    assert {each.value for each in others} == {28.0, 32.0, 45.0} - {drawn.sizes["entrance"]}
    for each in others:
        assert each.job is not None
        hole = each.job.parts["front"].features["entrance-hole"]
        assert hole.figures(each.job.parts["front"].block)["feature.diameter"] == each.value


# The largest bit of the drill is 35: a hole of 45 has to be sawn, which is another card.
def test_a_size_that_is_made_in_another_way_is_said() -> None:
    (only,) = found(NEST, workshop())
    assert only.level == "warning"
    assert only.what.startswith("Students may choose entrance 45 mm")
    assert "“Drill a large hole right through in a wide board”" in only.what
    assert "“Saw a large round hole”" in only.what


def test_a_size_that_nothing_here_makes_is_said_with_what_is_against_it() -> None:
    (only,) = found(NEST, without("shaping", "scroll-saw", "band-saw", "rasps-and-files"))
    assert "entrance 45 mm, which cannot be made here" in only.what
    assert "Take it off the list of choices" in only.remedy


def test_a_size_that_is_no_drawing_is_said(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_text(NEST.read_text().replace("options: [28, 32, 45]", "options: [28, 32, 400]"))
    assert all("400 mm" in each.what for each in found(path, workshop()))
    assert found(path, workshop())


DOOR = ROOT / "tests/assemblies/panel-door.yaml"


def door(folder: Path, choices: str, drawn: str = "") -> Path:
    """The panel door, 400 x 260 mm, with choices, and with one of its sizes drawn otherwise."""
    path, text = folder / "job.yaml", DOOR.read_text(encoding="utf-8")
    name = drawn.partition(":")[0]
    was = {"across": "across: 260", "tenon": "tenon: 30", "": ""}[name]
    path.write_text(f"{text.replace(was, drawn, 1) if drawn else text}choices: {{{choices}}}\n", encoding="utf-8")
    return path


def test_a_size_at_which_the_joined_parts_do_not_fit_is_said(tmp_path: Path) -> None:
    """Each part can be made with grooves 18 deep, but tenons of 30 stand in the panel then: it is 36 - 2 - 14 = 20 longer."""
    (only,) = found(door(tmp_path, "groove: {options: [8, 18]}"), workshop())
    assert only.level == "warning"
    assert only.what.startswith(
        "Students may choose groove 18 mm, which cannot be made here. high-rail and panel stand in each other"
    )


def test_a_size_whose_glue_up_no_cramp_here_reaches_is_said(tmp_path: Path) -> None:
    """Over the stiles 500 mm, with a block of 20 under each jaw: 540. The cramps of this workshop open 450."""
    shop = workshop()
    counted = {name: replace(thing, reach=450.0) if thing.reach is not None else thing for name, thing in shop.counted.items()}
    small = replace(shop, counted=counted)
    said = found(door(tmp_path, "across: {options: [260, 500]}"), small)
    assert any("across 500 mm, which cannot be made here." in each.what and "cramp" in each.what for each in said)


def test_where_the_size_drawn_is_refused_one_that_can_be_made_is_named(tmp_path: Path) -> None:
    """Tenons of 42 leave 1 mm of a stile 45 wide behind their mortises, of 44; tenons of 30 leave 13."""
    said = found(door(tmp_path, "tenon: {options: [30, 42, 43]}", "tenon: 42"), workshop())
    (note,) = (each for each in said if each.level == "note")
    assert note.what == (
        "Students may choose tenon 30 mm, and nothing stands against that here, as it does against the 42 mm drawn."
    )
    assert note.remedy == "Write tenon: 30 under `sizes`, and take what cannot be made off the list of choices."
    assert any("tenon 43 mm" in each.what for each in said if each.level == "warning")
    checked = check(tmp_path / "job.yaml", ROOT / "examples/workshops/full.yaml")
    assert note in checked.findings
    assert "error" in {each.level for each in checked.findings}


def test_what_stands_against_every_size_alike_is_not_said_of_each(tmp_path: Path) -> None:
    said = found(door(tmp_path, "across: {options: [260, 265]}"), without("gluing"))
    assert said == []


def test_what_is_not_tried_of_the_sizes_offered_is_said(tmp_path: Path) -> None:
    """A list of one size is tried whole; of a range only its ends and its middle are."""
    drawn, _ = read_job(NEST)
    assert not_tried(drawn) is None
    path = tmp_path / "job.yaml"
    path.write_text(
        NEST.read_text()
        .replace("{options: [28, 32, 45]}", "{from: 28, to: 34}")
        .replace("options: [28, 32, 45]", "from: 28\n    to: 34")
    )
    ranged, _ = read_job(path)
    assert [each.value for each in offered_jobs(path, ranged)] == [
        value for value in (28, 31, 34) if value != ranged.sizes["entrance"]
    ]
    said = not_tried(ranged)
    assert said is not None
    assert "other sizes inside the range of entrance were not tried" in said.what
    assert said in check(path, ROOT / "examples/workshops/full.yaml").findings
