"""The command that draws one thing: what is written for each way of asking, and every wrong way."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from io import BytesIO
from pathlib import Path
from struct import unpack_from

import pytest
from pypdf import PdfReader

from sequencer.paper.drawing import picture
from sequencer.paper.order_picture import order_sheets
from sequencer.paper.pictured import Pictured
from sequencer.paper.wording import DRAFT
from tests.made import job, making, proved
from tests.test_cli import FULL, STARTER, Said, Shell
from tests.test_cli import shell as shell  # the fixture

CADDY = "examples/herb-caddy/job.yaml"
SVG = "{http://www.w3.org/2000/svg}"


def show(shell: Shell, *words: str, out: str = "picture.svg", file: str = CADDY) -> Said:
    return shell("show", file, "--workshop", FULL, *words, "--out", out)


def words_in(file: str) -> list[str]:
    """The texts of a written picture, which must be well formed."""
    root = ET.fromstring(Path(file).read_bytes())
    assert root.tag == f"{SVG}svg"
    assert float(root.attrib["width"].removesuffix("mm")) > 0
    return ["".join(each.itertext()) for each in root.iter(f"{SVG}text")]


def test_without_more_the_whole_as_it_stands(shell: Shell) -> None:
    said = show(shell)
    assert said.code == 0
    assert said.out == "Wrote picture.svg.\n"
    assert sorted(words_in("picture.svg")) == ["A", "A", "B", "B", "C", "D", "E"]


def test_apart_names_the_hands_and_shows_the_ways_in(shell: Shell) -> None:
    show(shell, out="whole.svg")
    assert show(shell, "--apart").code == 0
    assert {"left", "right"} < set(words_in("picture.svg"))
    arrows = [Path(name).read_text(encoding="utf-8").count('class="arrow"') for name in ("whole.svg", "picture.svg")]
    assert arrows[0] == 0
    assert arrows[1] >= 5


def test_every_part_once(shell: Shell) -> None:
    assert show(shell, "--parts").code == 0
    said = words_in("picture.svg")
    for part in job("herb-caddy").parts.values():
        pair = ", a pair" if part.handed else ""
        assert f"{part.name} × {part.count}{pair}" in said
    assert "332, diameter 20" in said


@pytest.mark.parametrize("name", ["end", "B"])
def test_a_part_with_its_sizes_by_name_or_letter(shell: Shell, name: str) -> None:
    assert show(shell, "--part", name).code == 0
    said = words_in("picture.svg")
    assert {"170", "190", "85", "160", "diameter 20", "45", "90"} <= set(said)


def test_a_handed_part_shows_both_hands(shell: Shell) -> None:
    assert show(shell, "--part", "side").code == 0
    assert {"left", "right"} <= set(words_in("picture.svg"))


def _step(task: str) -> int:
    return next(step.number for step in proved("herb-caddy").steps if step.kind == "work" and task in step.tasks)


def test_a_step_by_its_number_or_a_task_is_the_picture_on_its_card(shell: Shell) -> None:
    number = _step("end/handle-hole/cut")
    assert show(shell, "--step", str(number), out="number.svg").code == 0
    assert show(shell, "--step", "end/handle-hole", out="task.svg").code == 0
    step = next(step for step in proved("herb-caddy").steps if step.number == number)
    card = picture(step, Pictured(proved("herb-caddy"), job("herb-caddy"), making("herb-caddy")))
    assert Path("number.svg").read_text(encoding="utf-8") == f"{card.svg}\n"
    assert Path("task.svg").read_bytes() == Path("number.svg").read_bytes()


def test_a_pdf_has_one_page_with_title_and_caution(shell: Shell) -> None:
    assert show(shell, "--parts", out="parts.pdf").code == 0
    (page,) = PdfReader(BytesIO(Path("parts.pdf").read_bytes())).pages
    said = " ".join(page.extract_text().split())
    assert "Herb caddy" in said
    assert "qualified staff come first" in said


def test_a_model_names_every_piece(shell: Shell) -> None:
    said = show(shell, out="deep/down/model.glb")
    assert said.code == 0
    written = Path("deep/down/model.glb").read_bytes()
    assert written[:4] == b"glTF"
    (length,) = unpack_from("<I", written, 12)
    tree = json.loads(written[20 : 20 + length])
    assert [node["name"] for node in tree["nodes"] if "mesh" in node] == list(job("herb-caddy").pieces())
    assert [file.name for file in Path("deep/down").iterdir()] == ["model.glb"]


def test_the_workshop_beside_the_job_is_taken(shell: Shell) -> None:
    assert shell("show", STARTER, "--out", "rail.SVG").code == 0
    assert words_in("rail.SVG").count("B") == 3


def test_the_order_of_work_with_its_reasons(shell: Shell) -> None:
    assert show(shell, "--order").code == 0
    said = words_in("picture.svg")
    numbers = [str(step.number) for step in proved("herb-caddy").steps]
    assert [text for text in said if text in numbers] == sorted((*numbers, *numbers), key=int)
    assert "Gluing" in said
    assert f"after {_step('side/mark-out/mark')} Rf: A cut needs its line." in said
    assert DRAFT not in said
    assert Path("picture.svg").read_text(encoding="utf-8").count("@font-face") == 4


def test_the_order_as_a_pdf_takes_a_page_a_sheet_across(shell: Shell) -> None:
    assert show(shell, "--order", out="order.pdf").code == 0
    pages = PdfReader(BytesIO(Path("order.pdf").read_bytes())).pages
    assert len(pages) == len(order_sheets(proved("herb-caddy")))
    for number, page in enumerate(pages, 1):
        said = "".join(page.extract_text().split())
        assert f"sheet{number}of{len(pages)}" in said
        assert "qualifiedstaffcomefirst" in said
        assert page.mediabox.width > page.mediabox.height


@pytest.mark.parametrize("words", [(), ("--apart",), ("--parts",), ("--part", "side"), ("--order",)])
@pytest.mark.parametrize("ending", [".svg", ".pdf"])
def test_equal_input_gives_equal_bytes(shell: Shell, words: tuple[str, ...], ending: str) -> None:
    for name in ("one", "two"):
        show(shell, *words, out=name + ending)
    assert Path("one" + ending).read_bytes() == Path("two" + ending).read_bytes()


def test_a_flawed_drawing_is_still_drawn_and_says_so(shell: Shell) -> None:
    text = Path(CADDY).read_text(encoding="utf-8")
    Path("flawed.yaml").write_text(text.replace("is: 190}", "is: 195}"), encoding="utf-8")
    said = show(shell, file="flawed.yaml")
    assert said.code == 0
    assert "The drawing has errors and cannot be planned" in said.out
    assert "E" in words_in("picture.svg")
    for words in (("--step", "3"), ("--order",)):
        assert show(shell, *words, file="flawed.yaml").code == 1


# Wrong ways of asking


def refused(shell: Shell, *words: str, out: str = "picture.svg") -> str:
    said = show(shell, *words, out=out)
    assert said.code == 2
    assert not Path(out).is_file()
    return " ".join(said.err.split())


def test_an_unknown_part_is_answered_with_those_there_are(shell: Shell) -> None:
    said = refused(shell, "--part", "lid")
    assert "The job has no part called lid." in said
    assert "The parts are: side (A), end (B), divider (C), floor (D), handle (E)." in said


def test_an_unknown_step_is_answered_with_how_many_there_are(shell: Shell) -> None:
    assert f"Steps run from 1 to {len(proved('herb-caddy').steps)}." in refused(shell, "--step", "99")
    assert "The plan has no task called end/groove." in refused(shell, "--step", "end/groove")


def test_a_name_that_means_several_steps(shell: Shell) -> None:
    said = refused(shell, "--step", "side")
    assert "side is worked in steps " in said
    assert "Name one step by its number." in said


@pytest.mark.parametrize("out", ["picture.png", "picture", "picture.svg.txt"])
def test_an_ending_that_is_not_known(shell: Shell, out: str) -> None:
    assert "end in .svg, .pdf or .glb." in refused(shell, out=out)


def test_a_model_of_less_than_the_whole(shell: Shell) -> None:
    for words in (("--part", "side"), ("--step", "3"), ("--apart",), ("--parts",), ("--order",)):
        assert "A model is of the whole thing as it stands." in refused(shell, *words, out="model.glb")


@pytest.mark.parametrize(
    "words",
    [("--part", "side", "--step", "3"), ("--apart", "--parts"), ("--parts", "--part", "side"), ("--order", "--step", "3")],
)
def test_two_things_at_once(shell: Shell, words: tuple[str, ...]) -> None:
    assert "not allowed with argument" in refused(shell, *words)


def test_no_file_named(shell: Shell) -> None:
    for words in ((), ("--order",)):
        said = shell("show", CADDY, "--workshop", FULL, *words)
        assert said.code == 2
        assert "--out" in said.err


def test_a_folder_or_a_file_in_the_way(shell: Shell) -> None:
    Path("taken.svg").mkdir()
    Path("file").write_text("", encoding="utf-8")
    assert show(shell, out="taken.svg").code == 2
    assert list(Path("taken.svg").iterdir()) == []
    assert show(shell, out="file/picture.svg").code == 2
    assert show(shell, "--order", out="file/order.svg").code == 2
    assert Path("file").read_text(encoding="utf-8") == ""
