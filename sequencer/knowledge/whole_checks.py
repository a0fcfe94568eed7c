"""What the files of the knowledge keep between them: every name in one stands in another, and no two operations share one."""

from __future__ import annotations

from sequencer.data import data_folder
from sequencer.knowledge import hazard_checks, links, list_checks, ranges, region_checks, station_checks
from sequencer.knowledge.files import Files


def check_files(files: Files) -> None:
    """Notes in each file what is wrong with what it names."""
    worn = [file.value for file in files.listed("wear") if file.value is not None]
    names = links.Names(
        guards=files.keys("guards"),
        holding=files.keys("holding"),
        wear=files.keys("wear"),
        forbidden=tuple(key for items in worn for key, item in items.items() if item.forbidden_line),
        hazards=tuple(file.name for file in files.hazards),
        bits=files.keys("drill-bits"),
        sized=files.keys("tool-sizes"),
        jigs={name: jig for file in files.listed("jigs") for name, jig in (file.value or {}).items()},
        ghs=files.keys("ghs"),
        signs=files.keys("signs"),
        sign_drawings=drawn("signs"),
        guard_drawings=drawn("guards"),
        tools=files.tools(),
        before=files.before(),
        verbs=frozenset(str(verb).lower() for file in files.listed("verbs") for verb in file.report.tree.data),
    )
    hazards = {file.name: file.value for file in files.hazards if file.value is not None}
    places: dict[str, str] = {}
    ways = {f"{file.name}/{way}" for file in files.stations if file.value is not None for way in file.value.ways_shown}
    for file in files.stations:
        if file.value is None:
            continue
        station_checks.check_station(file.report, file.value, names)
        station_checks.check_ways_of_others(file.report, file.value, ways)
        hazard_checks.check_gloves(file.report, file.value, hazards)
        for key in file.value.operations:
            if key in places:
                file.report.error(
                    "same-name",
                    ("operations", key),
                    f"An operation of {places[key]} is also called '{key}'.",
                    "Operations are switched off and decided by their name.",
                    "Rename one of them.",
                )
            places[key] = file.name
    for file in files.hazards:
        if file.value is not None:
            hazard_checks.check_hazard(file.report, file.value, names)
            hazard_checks.check_rules(file.report, file.value)
    for name in ("guards", "holding", "wear"):
        for file in files.listed(name):
            list_checks.check_lines(file.report, file.value or {}, names)
    for file in files.listed("holding"):
        for key, item in (file.value or {}).items():
            links.check_names(file.report, "way of holding", item.line_for, names.holding, (key, "line_for"))
    for name in ("glues", "finishes", "materials"):
        for file in files.listed(name):
            list_checks.check_their_hazards(file.report, file.value or {}, names)
    for file in files.listed("glues"):
        list_checks.check_glues(file.report, file.value or {})
    for file in files.listed("finishes"):
        list_checks.check_finishes(file.report, file.value or {})
    for file in files.listed("materials"):
        list_checks.check_materials(file.report, file.value or {})
    for file in files.listed("jigs"):
        list_checks.check_jigs(file.report, file.value or {}, names)
    for file in files.listed("shapes"):
        list_checks.check_shapes(file.report, file.value or {}, names)
    for file in files.listed("tool-sizes"):
        list_checks.check_tool_sizes(file.report, file.value or {})
    for file in files.listed("staff-steps"):
        list_checks.check_staff_steps(file.report, file.value or {}, names)
    for file in files.listed("waiting-work"):
        list_checks.check_waiting_work(file.report, file.value or {}, names)
    if files.listed("staff-steps"):
        list_checks.check_staff_steps_there(files.listed("staff-steps")[-1].report, files.keys("staff-steps"))
    _check_regions(files)
    for file in files.lists:
        ranges.check_ranges(file.report, file.name, file.value)
    if files.listed("fits"):
        list_checks.check_fits(files.listed("fits")[-1].report, files.keys("fits"))


def _check_regions(files: Files) -> None:
    """Checks regions, measures and dated figures against each other."""
    names = region_checks.RegionNames(
        {name: item for file in files.listed("measures") for name, item in (file.value or {}).items()},
        tuple(file.name for file in files.stations),
        region_checks.jurisdictions(each for file in files.listed("regions") for each in (file.value or {}).values()),
        region_checks.with_figures(each for file in files.listed("limits") for each in file.value or ()),
        region_checks.codes({name: item for file in files.listed("regions") for name, item in (file.value or {}).items()}),
    )
    for file in files.listed("measures"):
        region_checks.check_measures(file.report, files.standing(file), names)
    for file in files.listed("limits"):
        region_checks.check_records(file.report, file.value or (), names)
    for file in files.listed("regions"):
        region_checks.check_regions(file.report, files.standing(file), names)
    for file in files.listed("guards"):
        region_checks.check_guards(file.report, files.standing(file), names)


def drawn(folder: str) -> frozenset[str]:
    """The drawings of a folder of `cards`, by name."""
    return frozenset(path.stem for path in (data_folder("cards") / folder).glob("*.svg"))
