"""`sequencer lessons` as its user meets it: what is printed when, what is written where, and how it ends."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from argparse import Namespace
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from pypdf import PdfReader

from sequencer.cli import main
from sequencer.cli.saying import LOCAL_RULES
from sequencer.cli.writing import write_course
from sequencer.paper.wording import DRAFT
from sequencer.pipeline import prove
from tests.classroom.classes import class_planned, the_class
from tests.made import ROOT, job, plan
from tests.proving.damage import without

FRAME = ("lessons", str(ROOT / "examples" / "picture-frame" / "job.yaml"), "--effort", "0.02", "--no-solver", "--students", "3")
SHOP = ("--workshop", str(ROOT / "examples" / "workshops" / "well-equipped.yaml"), "--date", "2027-01-11")


def test_the_plan_is_printed_before_its_sheets_are_laid_out(tmp_path: Path) -> None:
    """Sheets of a large class take a while: whoever stops there has the plan. Both streams go into one pipe, so that what the
    program keeps back shows."""
    out = tmp_path / "sheets"
    words = (sys.executable, "-m", "sequencer", *FRAME, *SHOP, "--out", str(out), "--sheet", "wall-chart", "--page", "letter")
    kept_back = os.environ | {"PYTHONUNBUFFERED": ""}
    done = subprocess.run(words, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False, env=kept_back)
    said = done.stdout.decode()
    assert done.returncode == 0, said
    marks = ["Picture frame: ", "What holds it up:", "lesson  when", "... wall chart, page ", "Wrote:"]
    assert [said.index(mark) for mark in marks] == sorted(said.index(mark) for mark in marks)
    assert sorted(each.name for each in out.iterdir()) == ["wall-chart.html", "wall-chart.pdf"]
    assert " ".join(said.split()).endswith(LOCAL_RULES)
    assert {(round(page.mediabox.width), round(page.mediabox.height)) for page in PdfReader(out / "wall-chart.pdf").pages} == {
        (792, 612)
    }, "Letter, in points, lying"


def test_too_few_lessons_are_refused_and_nothing_is_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out, file = tmp_path / "sheets", tmp_path / "frame.json"
    code = main([*FRAME, *SHOP, "--within", "1", "--out", str(out), "--json", str(file)])
    said = " ".join("".join(capsys.readouterr()).split())
    assert code == 1
    assert re.search(r"The shortest that was found takes \d+, and 1 were asked for\.", said)
    assert list(tmp_path.iterdir()) == []


def test_sheets_of_lessons_whose_plan_is_not_proved_are_drafts_and_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The risk assessment is refused as a draft then, and so are the pages that students work by."""
    sound = plan("picture-frame", "well-equipped")
    rebate = next(task for task in sound.tasks if task.kind == "rebate")
    made, making = prove(without(sound, rebate.id), job("picture-frame"))
    unproved = replace(the_class().plan, proof=made.proof)
    given = Namespace(out=tmp_path, date=date(2027, 2, 1), sheet=["seat-cards", "sign-off-register", "seat-cards"], page="a4")
    assert write_course(class_planned(), unproved, making, given) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "The plan is not proved: every page says that it is a draft." in said
    names = ["seat-cards.html", "seat-cards.pdf", "sign-off-register.html", "sign-off-register.pdf"]
    assert sorted(each.name for each in tmp_path.iterdir()) == names
    for name in names[1::2]:
        assert all(DRAFT in " ".join(page.extract_text().split()) for page in PdfReader(tmp_path / name).pages)
