"""The sheets: what stands on each, that they hold together as files, and that the same plan gives the same bytes."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from dataclasses import replace
from datetime import date
from functools import cache
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from sequencer.findings import Unusable
from sequencer.model.plan import Plan, Step
from sequencer.model.protection import Wear
from sequencer.paper.job_card import CardEntry, job_card
from sequencer.paper.pages import PAGE_SIZES, Drawings
from sequencer.paper.pdf import make_pdf
from sequencer.paper.sheets import SHEETS, laid_out, render, write_papers
from sequencer.paper.wording import (
    CAUTION,
    DRAFT,
    for_each_part,
    heading,
    ready_marker,
    source_words,
    staff_marker,
    wear_words,
)
from sequencer.paper.writing import stylesheet
from sequencer.proving.making import carry_out
from sequencer.proving.record import with_record
from tests.made import ROOT, drawings, job, making, proved
from tests.paper.sample import WHY, make
from tests.proving import damage

DAY = date(2027, 2, 1)


@cache
def _drawings() -> Drawings:
    """The pictures of the sample, each drawn once for all tests here."""
    return Drawings(*make(), {})


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Every sheet of the sample, written once."""
    out = tmp_path_factory.mktemp("papers")
    written = write_papers(*make(), out, day=DAY)
    assert written.pdf
    assert not written.missing
    return out


def _html(folder: Path, sheet: str) -> str:
    return (folder / f"{sheet}.html").read_text(encoding="utf-8")


def _body(folder: Path, sheet: str) -> ET.Element:
    body = ET.fromstring(_html(folder, sheet)).find("body")
    assert body is not None
    return body


def _words(element: ET.Element) -> str:
    return " ".join("".join(element.itertext()).split())


def _pdf_pages(folder: Path, sheet: str) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(folder / f"{sheet}.pdf").pages]


def _plain(text: str) -> str:
    return text.replace("\xa0", " ")


def _classed(element: ET.Element, name: str) -> list[ET.Element]:
    return [each for each in element.iter() if name in each.get("class", "").split()]


@pytest.mark.parametrize("sheet", SHEETS)
def test_each_sheet_is_well_formed_and_refers_to_nothing_outside(folder: Path, sheet: str) -> None:
    html = _html(folder, sheet)
    ET.fromstring(html)
    without_names = html.replace("http://www.w3.org/2000/svg", "")
    assert not re.search(r"https?:|//[a-z]|<link|<script|@import|<img", re.sub(r"base64,[A-Za-z0-9+/=]+", "", without_names))
    assert set(re.findall(r"url\(([a-z]+):", html)) == {"data"}


@pytest.mark.parametrize("sheet", SHEETS)
def test_every_page_says_what_comes_first_what_it_is_of_and_where_it_stands(folder: Path, sheet: str) -> None:
    plan, _, _ = make()
    pages = _pdf_pages(folder, sheet)
    sections = _classed(_body(folder, sheet), "page")
    assert len(pages) == len(sections)
    for number, text in enumerate(pages, 1):
        assert CAUTION in _plain(text)
        assert f"page {number} of {len(pages)}" in text
        assert plan.job_file in text
        assert plan.workshop_file in text
        assert "1 February 2027" in text
        assert re.search(r"Plan mark [0-9a-f]{8}", text)


@pytest.mark.parametrize("sheet", SHEETS)
def test_no_sheet_judges(folder: Path, sheet: str) -> None:
    # A regulator is called by its name.
    said = _words(_body(folder, sheet)).replace("Safe Work Australia", "").lower()
    assert not re.search(r"\b(safe|safely|compliant|approved|complies)\b", said)


def _of(plan: Plan, card: ET.Element) -> list[Step]:
    """The steps of a block of the job card, by its number: `5`, or `3 to 4`."""
    numbers = [int(number) for number in re.findall(r"\d+", " ".join(_classed(card, "big")[0].itertext()))]
    return [step for step in plan.steps if numbers[0] <= step.number <= numbers[-1]]


def _as_one(steps: list[Step], texts: list[str]) -> str:
    """What a block says for several steps that differ in a size."""
    said = for_each_part([step.parts[0].letter for step in steps], texts)
    assert said is not None
    return said


def test_job_card_holds_student_steps_only(folder: Path) -> None:
    plan, _, _ = make()
    body = _body(folder, "job-card")
    cards = _classed(body, "step")
    shown = [step for card in cards for step in _of(plan, card)]
    assert shown == [step for step in plan.steps if step.card == "student" and step.kind != "wait"]
    said = _words(body)
    for card in cards:
        steps = _of(plan, card)
        for texts in zip(*(step.instructions for step in steps), strict=True):
            assert _as_one(steps, list(texts)) in _words(card)
    students = {sentence for step in shown for sentence in step.instructions}
    for step in plan.steps:
        if step.card == "staff":
            assert not [sentence for sentence in {*step.instructions, *step.method} - students if sentence in said]
    worked = [step.number for step in plan.steps if step.card == "staff" and step.kind == "work"]
    assert worked == [2, 8]
    assert "Staff have done step 2 before the lesson: cut the blank: side and divider (A, C)." in said
    assert "Give A and B to staff for step 8: cut the floor groove: side and end (A, B). Wait until they are back." in said
    assert "Wait while staff" not in said
    # Setting a machine holds nobody up: it stands on the staff sheet only.
    assert "set the pillar drill" not in said.lower()
    assert "Wait 24 hours. Leave the glue to set: box (step 32)." in said


def test_every_step_on_the_card_has_its_guard_line_and_hazard_line(folder: Path) -> None:
    plan, _, _ = make()
    for card in _classed(_body(folder, "job-card"), "step"):
        steps = _of(plan, card)
        first = steps[0]
        assert [_words(each) for each in _classed(card, "guard")] == [f"Check the guard {first.guard_line}"]
        assert [_words(each) for each in _classed(card, "hazard")] == [f"Warning {first.hazard_line}"]
        assert {(step.guard_line, step.hazard_line, step.stop, step.wear) for step in steps} == {
            (first.guard_line, first.hazard_line, first.stop, first.wear)
        }
        assert len(_classed(card, "tick")) == len(steps)
        assert len(_classed(card, "stop")) == (1 if first.stop else 0)
        assert first.if_wrong in _words(card)
        for checks in list(zip(*(step.checks for step in steps), strict=True))[:2]:
            assert _as_one(steps, [check.limit for check in checks]) in _words(card)
        assert wear_words(first.wear) in _words(card)
        for wear in first.wear:
            assert wear.code in _words(card)
        for step in steps:
            for work in step.parts:
                assert f"{work.letter} × {work.quantity}" in _plain(_words(card))


def test_a_step_without_its_own_lines_still_warns() -> None:
    plan, _, _ = make()
    bare = tuple(replace(step, guard_line="", hazard_line="") for step in plan.steps)
    html = render("job-card", replace(plan, steps=bare), _drawings(), DAY, "a4")
    cards = _classed(ET.fromstring(html), "step")
    assert all(_words(_classed(card, "guard")[0]) for card in cards)
    assert all(_words(_classed(card, "hazard")[0]) for card in cards)


def test_station_cards_say_who_how_and_when_to_stop(folder: Path) -> None:
    plan, _, _ = make()
    said = _words(_body(folder, "station-cards"))
    for card in plan.stations:
        for text in (heading(card.title), card.may_use, card.smallest, card.hands, *card.before_starting, *card.stop_when):
            assert text in said
        for guard in (*card.guards, *card.holding):
            assert guard.line in said
        for source in card.sources:
            assert source_words(source) in said
    assert "Fence to the near side of the blade: 8 mm" in said
    assert "As set in step 7" in said
    assert "Feed: against the turn of the blade, right through; never backwards, never dropped on." in said
    assert "from memory: no specific regulation found for scroll saws (check locally)" in said


def test_staff_sheet_lists_what_to_cut_set_and_lay_out(folder: Path) -> None:
    plan, _, _ = make()
    said = _plain(_words(_body(folder, "staff-sheet")))
    assert "693 × 90 × 15" in said
    assert "27, with spares" in said
    for step in plan.steps:
        assert (step.title in said) is (step.card == "staff")
    assert plan.tools
    for thing in plan.tools:
        assert thing.name in said
    assert "class 48" in said
    assert plan.findings
    for finding in plan.findings:
        assert finding.what in said


# Two sticks of 545 mm give the four long pieces of two frames and their spares: sticks are cut, not parts.
def test_blanks_are_counted_as_they_are_cut() -> None:
    plan = proved("picture-frame")
    said = _plain(_words(ET.fromstring(render("staff-sheet", plan, drawings("picture-frame"), DAY, "a4"))))
    blank = next(blank for blank in plan.blanks if blank.part == "long-piece")
    assert blank.yields == 2
    assert blank.pieces < 2 * plan.class_.students
    strip = next(strip for strip in plan.strips if "long-piece" in strip.parts)
    assert f"{strip.count} strips of {strip.length:g} mm, with spares" in said


def test_screws_are_on_the_staff_sheet() -> None:
    plan = proved("nest-box")
    assert plan.hardware
    said = _plain(_words(ET.fromstring(render("staff-sheet", plan, drawings("nest-box"), DAY, "a4"))))
    for thing in plan.hardware:
        assert thing.name in said


@pytest.mark.parametrize("sheet", ["staff-sheet", "risk-assessment"])
def test_what_the_dust_does_is_printed_for_staff(sheet: str) -> None:
    plan = proved("nest-box")
    assert {part.material for part in plan.parts} <= {line.partition(":")[0].removeprefix("Dust of ") for line in plan.materials}
    said = _plain(_words(ET.fromstring(render(sheet, plan, drawings("nest-box"), DAY, "a4"))))
    for line in plan.materials:
        assert _plain(line) in said


def test_jigs_are_on_the_staff_sheet_with_pieces_stock_and_drawing() -> None:
    plan = proved("herb-caddy", "hand-tools")
    assert plan.jigs
    root = ET.fromstring(render("staff-sheet", plan, drawings("herb-caddy", "hand-tools"), DAY, "a4"))
    said = _plain(_words(root))
    for jig in plan.jigs:
        assert jig.what[1:] in said
        for piece in jig.pieces:
            assert f"{piece.length:g} × {piece.width:g} × {piece.thickness:g}" in said
            assert piece.stock in said
        for check in jig.checks:
            assert check in said


def test_risk_assessment_leaves_judgement_to_the_school(folder: Path) -> None:
    body = _body(folder, "risk-assessment")
    said = _words(body)
    cells = [_words(cell) for judge in _classed(body, "judge") for cell in judge.iter("td") if cell is not judge]
    assert cells
    assert set(cells) == {"Likelihood:", "Severity:", "Acceptable?", "Decided by:", "What:", "By whom:", "By when:"}
    for blank in ("Assessor", "Head of department", "Date", "Review date", "May it go ahead?"):
        assert blank in said
    assert "School to decide" in said
    plan, _, _ = make()
    assert plan.risks
    for row in plan.risks:
        assert row.title in said
        assert row.happens in said
        for control in (*row.controls, *row.more):
            assert control.text.removesuffix(".") in said
        for source in row.sources:
            assert source_words(source) in said
    assert "Student, adult beside, signed off first: 22" in said
    assert WHY in said
    assert "(check locally)" in said


def test_paper_sizes(folder: Path, tmp_path: Path) -> None:
    write_papers(*make(), tmp_path, day=DAY, page="letter", only=("staff-sheet", "risk-assessment"))
    sizes = {
        "a4": (round(210 / 25.4 * 72), round(297 / 25.4 * 72)),
        "letter": (612, 792),
    }
    for name, out in (("a4", folder), ("letter", tmp_path)):
        for sheet, turned in (("staff-sheet", False), ("risk-assessment", True)):
            for page in PdfReader(out / f"{sheet}.pdf").pages:
                found = (round(float(page.mediabox.width)), round(float(page.mediabox.height)))
                assert found == (sizes[name][::-1] if turned else sizes[name])


def test_only_what_was_asked_for_is_written(tmp_path: Path) -> None:
    told: list[str] = []
    written = write_papers(*make(), tmp_path / "new", day=DAY, only=("staff-sheet",), progress=told.append)
    assert sorted(path.name for path in (tmp_path / "new").iterdir()) == ["staff-sheet.html", "staff-sheet.pdf"]
    assert [path.name for path in written.files] == ["staff-sheet.html", "staff-sheet.pdf"]
    pages = len(_pdf_pages(tmp_path / "new", "staff-sheet"))
    assert told == [f"staff preparation sheet, page {pages} of {pages}"]


def test_unknown_sheets_and_page_sizes_are_refused(tmp_path: Path) -> None:
    with pytest.raises(Unusable, match=r"no sheet called 'poster'.*\n.*page size 'a3'"):
        write_papers(*make(), tmp_path / "x", day=DAY, only=("poster",), page="a3")
    assert not (tmp_path / "x").exists()


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("here first")
    with pytest.raises(Unusable, match=r"cannot be written"):
        write_papers(*make(), tmp_path / "file" / "out", day=DAY)


_SCRIPT = """
import sys
from datetime import date
from functools import cache
from io import BytesIO
from pathlib import Path
from sequencer.paper.sheets import write_papers
from tests.paper.sample import make
written = write_papers(*make(), Path(sys.argv[1]), day=date(2027, 2, 1))
print(written.missing)
"""


def _run(out: Path, *before: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", "\n".join((*before, _SCRIPT)), str(out)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, **environment},
    )


def test_the_same_plan_and_date_give_the_same_bytes_in_another_process(folder: Path, tmp_path: Path) -> None:
    ran = _run(tmp_path, PYTHONHASHSEED="7")
    assert ran.returncode == 0, ran.stderr
    for path in folder.iterdir():
        assert (tmp_path / path.name).read_bytes() == path.read_bytes(), path.name


def test_without_pango_the_html_is_written_and_the_remedy_said(folder: Path, tmp_path: Path) -> None:
    no_pango = (
        "import ctypes.util, cffi",
        "ctypes.util.find_library = lambda name: None",
        "loads = cffi.FFI.dlopen",
        "def dlopen(self, name, *rest):",
        "    if name and 'pango' in str(name).lower(): raise OSError(f'cannot load library {name!r}')",
        "    return loads(self, name, *rest)",
        "cffi.FFI.dlopen = dlopen",
    )
    ran = _run(tmp_path, *no_pango)
    assert ran.returncode == 0, ran.stderr
    assert "Pango" in ran.stdout
    assert "install" in ran.stdout
    assert ran.stdout.strip().count("\n") == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted(f"{sheet}.html" for sheet in SHEETS)
    for sheet in SHEETS:
        assert (tmp_path / f"{sheet}.html").read_bytes() == (folder / f"{sheet}.html").read_bytes()


def test_a_failed_write_leaves_the_old_file_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old = tmp_path / "staff-sheet.html"
    old.write_text("the old one")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(Unusable, match="No space left"):
        write_papers(*make(), tmp_path, day=DAY, only=("staff-sheet",))
    assert old.read_text() == "the old one"
    assert [path.name for path in tmp_path.iterdir()] == ["staff-sheet.html"]


def _renamed(name: str) -> Plan:
    plan, _, _ = make()
    steps = tuple(replace(step, title=f"{step.title} {name}") for step in plan.steps[:9])
    parts = tuple(replace(part, name=name) for part in plan.parts)
    return replace(plan, job=name, job_file=f"{name}.yaml", steps=steps, parts=parts)


@pytest.mark.parametrize(
    "name",
    ["<script>\"A\" & 'B'</script>", "wagon-" * 60, "箱 ящик صندوق", "100 % {{ plan }} {% raw %}"],
    ids=["markup", "long", "scripts", "template"],
)
def test_odd_names_survive(name: str, tmp_path: Path) -> None:
    _, drawn, made = make()
    write_papers(_renamed(name), drawn, made, tmp_path, day=DAY, only=("job-card", "staff-sheet"))
    for sheet in ("job-card", "staff-sheet"):
        assert name in _words(_body(tmp_path, sheet))
        assert len(PdfReader(tmp_path / f"{sheet}.pdf").pages) > 0


def test_a_changed_input_changes_the_mark_of_its_pages_only() -> None:
    plan, _, _ = make()
    changed = replace(plan, fingerprints={**plan.fingerprints, "box/glue/glue": "other"})

    def marks(plan: Plan) -> list[str]:
        return re.findall(r"Plan mark (\w+)", render("job-card", plan, _drawings(), DAY, "a4"))

    before, after = marks(plan), marks(changed)
    assert before[0] == after[0]
    assert before != after


def test_markers_name_what_staff_do() -> None:
    plan, _, _ = make()
    assert ready_marker(plan.steps[1:2]) == "Staff have done step 2 before the lesson: cut the blank: side and divider (A, C)."
    assert staff_marker(plan.steps[6:8]) == (
        "Give A and B to staff for steps 7, 8: cut the floor groove: side and end (A, B). Wait until they are back."
    )
    one = replace(plan.steps[7], parts=plan.steps[7].parts[:1])
    assert staff_marker([one]).endswith("Wait until it is back.")
    assert staff_marker([replace(one, parts=())]).startswith("Give your work to staff for step 8: ")


def test_sizes_that_differ_from_part_to_part_stand_in_one_sentence() -> None:
    letters = ("A", "B", "C")
    sizes = tuple(f"Measure {size} mm from the end." for size in (320, 170, 170))
    assert for_each_part(letters, sizes) == "Measure 320 mm (A), 170 mm (B, C) from the end."
    assert for_each_part(letters, ("Write A.", "Write B.", "Write C.")) == "Write A, B or C."
    assert for_each_part(letters, ("Saw it.",) * 3) == "Saw it."
    assert for_each_part(letters, ("Saw it.", "Saw it.", "Plane it.")) is None
    assert for_each_part(letters, ("Saw it.", "Saw it.", "Saw it now.")) is None


def test_what_to_wear_is_one_short_line() -> None:
    apron, hair = Wear("apron", "Wear an apron, tied behind.", "M026", "apron"), Wear("tied-hair", "Tie hair.", "", "tied-hair")
    gloves, own = Wear("gloves", "Take gloves off.", "P028", "no-gloves", True), Wear("visor", "Wear the visor.", "", "visor")
    assert wear_words((apron, hair, own, gloves)) == "Wear apron. Tie hair back. Wear the visor. Keep gloves off."


@pytest.mark.parametrize(
    ("example", "workshop"),
    [("herb-caddy", "full"), ("nest-box", "hand-tools"), ("step-stool", "full"), ("picture-frame", "hand-tools")],
)
def test_every_section_is_one_page_of_every_example(example: str, workshop: str) -> None:
    plan = proved(example, workshop)
    for page in PAGE_SIZES:
        for sheet in SHEETS:
            html, pdf = laid_out(sheet, plan, drawings(example, workshop), DAY, page, lambda *_: None)
            pages = [" ".join(each.extract_text().split()) for each in PdfReader(BytesIO(pdf)).pages]
            assert len(pages) == len(_classed(ET.fromstring(html), "page")), (page, sheet)
            for number, text in enumerate(pages, 1):
                assert f"page {number} of {len(pages)}" in text, (page, sheet)


def test_like_work_on_several_parts_shares_a_block() -> None:
    plan = proved("herb-caddy")
    pages = job_card(plan, drawings("herb-caddy"), "a4")
    blocks = [entry for page in pages for entry in page.entries if isinstance(entry, CardEntry)]
    shown = {step.number for block in blocks for step in block.steps}
    assert shown >= {step.number for step in plan.steps if step.kind in ("work", "wait")}
    # The pair of sides is squared by the marks of its face edges, the floor is thin sheet: each has a block of its own.
    alike = [block for block in blocks if block.title.startswith("Square the first end and cut to length")]
    lengths = max(alike, key=lambda block: len(block.steps))
    assert len({step.operation for step in lengths.steps}) == 1
    assert len(lengths.pictures) == len(lengths.steps) > 1
    # Two of them hold a glue-up each, with the whole order of bringing the pieces together;
    # one the outside before the handle, and one what no plane cleans.
    assert len(pages) <= 14


def test_batches_are_put_together_with_title_language_and_the_same_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    plan, _, _ = make()
    html = render("station-cards", plan, _drawings(), DAY, "a4")
    told: list[tuple[int, int]] = []
    whole = make_pdf(html, stylesheet(), DAY, lambda *_: None)
    monkeypatch.setattr("sequencer.paper.pdf.BATCH", 2)
    first = make_pdf(html, stylesheet(), DAY, lambda *done: told.append(done))
    assert make_pdf(html, stylesheet(), DAY, lambda *_: None) == first
    one, many = PdfReader(BytesIO(whole)), PdfReader(BytesIO(first))
    assert len(told) > 1
    assert [page.extract_text() for page in many.pages] == [page.extract_text() for page in one.pages]
    assert many.metadata is not None
    assert one.metadata is not None
    assert many.metadata.title == one.metadata.title
    assert str(many.root_object["/Lang"]) == "en"
    assert b"/FontFile" in first


def _not_proved() -> Plan:
    """The plan of the picture frame with the depth of a rebate 1 mm off, and the record that says so."""
    plan = proved("picture-frame")
    rebate = next(task for task in plan.tasks if task.kind == "rebate")
    wrong = damage.with_task(plan, next(task for name, task in damage.shifted_settings(rebate) if name == "depth"))
    return with_record(wrong, carry_out(wrong, job("picture-frame")))


def test_a_plan_that_is_not_proved_says_so_across_every_page(tmp_path: Path) -> None:
    plan = _not_proved()
    assert plan.proof is not None
    assert not plan.proof.held
    write_papers(plan, job("picture-frame"), making("picture-frame"), tmp_path, day=DAY)
    for sheet in SHEETS:
        sections = _classed(_body(tmp_path, sheet), "page")
        assert sections
        for section in sections:
            (across,) = _classed(section, "draft")
            assert _words(across) == DRAFT
        for text in _pdf_pages(tmp_path, sheet):
            # Once across the page, once at its foot.
            assert text.count(DRAFT) == 2, sheet


def test_a_plan_that_was_not_tried_is_a_draft_too() -> None:
    plan, _, _ = make()
    html = render("staff-sheet", replace(plan, proof=None), _drawings(), DAY, "a4")
    sections = _classed(ET.fromstring(html), "page")
    assert sections
    assert [_words(_classed(section, "draft")[0]) for section in sections] == [DRAFT] * len(sections)


def test_what_did_not_hold_stands_on_the_staff_sheet() -> None:
    plan = _not_proved()
    said = _words(ET.fromstring(render("staff-sheet", plan, drawings("picture-frame"), DAY, "a4")))
    failures = [finding for finding in plan.findings if finding.level == "error"]
    assert failures
    for finding in failures:
        assert finding.what in said


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_plan_that_is_proved_is_no_draft(folder: Path, sheet: str) -> None:
    said = re.sub(r"<style>.*?</style>", "", _html(folder, sheet), flags=re.DOTALL).lower()
    assert "draft" not in said
    assert not [text for text in _pdf_pages(folder, sheet) if "draft" in text.lower()]
