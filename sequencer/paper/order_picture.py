"""The picture of the order of work: lanes by station, steps from the top down, arrows with the kind of their reason.

Beside each step stand its name and the sentence of every arrow that leads to it, so that nothing needs looking up. The chain
that takes longest is heavy. mm on paper; black lines on white.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence

from sequencer.model.plan import Plan, Step
from sequencer.paper.order_layout import CODE, Sheet, cut_into_sheets, lay_out, ports_height
from sequencer.paper.order_links import Chain, Link, longest_chain, step_links, step_minutes
from sequencer.paper.order_marks import KINDS, THIN, code_of, draw_arrows, draw_shape, draw_step, draw_upright, goes_on, shape_of
from sequencer.paper.svg import Box, Pen, Picture, moved, text_width
from sequencer.paper.wording import DRAFT, heading, minutes_words, numbers_words

WIDTH, HEIGHT = 277.0, 180.0
"""A sheet of A4 across, less its margins and the caution."""
_BETWEEN = 8.0
"""Between sheets drawn in one picture."""

_TITLE, _SMALL, _LINE = 2.8, 2.5, 3.1
_LEAST_ROOM, _MOST_ROOM = 110.0, 150.0
"""Width of the column of names and sentences."""
_INDENT = 7.0
_APART = 4.0
"""Between the lanes and that column."""
_HEAD = 36.0
"""Height of what stands above the rows: title, names of the lanes, legend."""
_EDGE = 9.5
"""Room at the foot of a sheet for where its arrows go on, and at the head of the next."""


def order_sheets(plan: Plan) -> tuple[Picture, ...]:
    """The order of a plan on as many sheets of A4 across as it takes. A sheet is larger where so many stations or reasons meet
    that it must be."""
    links, chain = step_links(plan), longest_chain(plan)
    runs, sheets = _cut(plan, links, _MOST_ROOM, _EDGE)
    least, foot = min(_room(sheet) for sheet in sheets), max(_foot(sheet) for sheet in sheets)
    if least < _MOST_ROOM or foot > _EDGE:
        runs, sheets = _cut(plan, links, least, max(foot, _EDGE))
    drawn = []
    for index, (run, sheet) in enumerate(zip(runs, sheets, strict=True)):
        texts, heights = _texts(plan, links, _room(sheet))
        laid = lay_out(plan, run, links, heights, _code_width)
        drawn.append(_draw(plan, laid, texts, chain, (index + 1, len(runs))))
    return tuple(drawn)


Texts = Mapping[int, Sequence[tuple[str, bool]]]
"""The lines beside each step, and whether they are bold."""


def _cut(plan: Plan, links: Sequence[Link], room: float, foot: float) -> tuple[list[list[int]], list[Sheet]]:
    """The steps of each sheet, and the sheets with the texts in a column of a width; `foot` is kept free below the rows."""
    _, heights = _texts(plan, links, room)
    runs = cut_into_sheets([step.number for step in plan.steps], heights, links, HEIGHT - _HEAD - _EDGE - foot)
    return runs, [lay_out(plan, run, links, heights, _code_width) for run in runs]


def _texts(plan: Plan, links: Sequence[Link], room: float) -> tuple[Texts, Mapping[int, float]]:
    """What stands beside each step in a column of a width, and how tall its row is."""
    texts = {step.number: _lines(step, links, room) for step in plan.steps}
    return texts, {number: max(len(lines) * _LINE + 0.8, ports_height(links, number)) for number, lines in texts.items()}


def _room(sheet: Sheet) -> float:
    """How wide the column beside the lanes is."""
    return min(max(WIDTH - sheet.width - _APART, _LEAST_ROOM), _MOST_ROOM)


def order_picture(plan: Plan) -> Picture:
    """All sheets of the order, one below the other."""
    pen = Pen()
    top = 0.0
    sheets = order_sheets(plan)
    for sheet in sheets:
        pen.elements.append(moved(sheet, 0.0, top))
        pen.boxes += [box.moved(0.0, top) for box in sheet.texts]
        top += sheet.height + _BETWEEN
    width, height = max(sheet.width for sheet in sheets), top - _BETWEEN
    return Picture(pen.finish(width, height, f"The order of work of {plan.job}"), width, height, tuple(pen.boxes))


def _code_width(link: Link) -> float:
    return text_width(code_of(link), CODE)


# What stands beside the steps


def _lines(step: Step, links: Sequence[Link], room: float) -> list[tuple[str, bool]]:
    """The lines beside a step: its name in bold, then why it waits for what."""
    by = ", staff" if step.card == "staff" and step.kind != "wait" else ""
    title = f"{step.title} ({minutes_words(step_minutes(step))}{by})"
    lines = [(line, True) for line in _broken(title, _TITLE, room, bold=True)]
    after: dict[tuple[str, str], list[int]] = {}
    for link in links:
        if link.after == step.number:
            for kind, sentence in link.sayings:
                after.setdefault((KINDS[kind][0], sentence), []).append(link.before)
    for (code, sentence), numbers in after.items():
        why = f"after {numbers_words(numbers)} {code}: {sentence}"
        lines += [(line, False) for line in _broken(why, _SMALL, room, bold=False)]
    return lines


def _broken(text: str, size: float, room: float, *, bold: bool) -> list[str]:
    """A text in lines that fit beside the number of a step."""
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, bold=bold) <= room - _INDENT:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


# The sheet


def _draw(
    plan: Plan,
    sheet: Sheet,
    texts: Texts,
    chain: Chain,
    place: tuple[int, int],
) -> Picture:
    pen = Pen()
    column = (sheet.width + _APART, _room(sheet))
    steps = {step.number: step for step in plan.steps}
    first, last = sheet.numbers[0], sheet.numbers[-1]
    count = f", sheet {place[0]} of {place[1]}" if place[1] > 1 else ""
    pen.text(f"{plan.job}: why in this order, steps {first} to {last}{count}", (0.0, 2.4), size=4.4, anchor="start", kind="title")
    if plan.proof is not None and not plan.proof.held:
        pen.text(DRAFT, (max(sum(column), WIDTH), 2.4), size=4.4, anchor="end", kind="draft")
    legend = _legend(pen, sheet, chain, column, {shape_of(steps[each]) for each in sheet.numbers})
    top = max(_HEAD + (_EDGE if any(fork.from_above for fork in sheet.forks) else 0.0), legend)
    _lane_names(pen, plan, sheet, _HEAD, top)
    draw_arrows(pen, sheet, chain, top)
    for each in sheet.numbers:
        draw_step(pen, steps[each], sheet.boxes[each].moved(0.0, top), heavy=each in chain.steps)
        _beside(pen, each, texts[each], sheet.rows[each], column, top)
    height = top + sheet.height + _foot(sheet)
    width = max(sum(column), WIDTH)
    title = f"The order of work of {plan.job}, sheet {place[0]} of {place[1]}"
    return Picture(pen.finish(width, height, title), width, height, tuple(pen.boxes))


def _foot(sheet: Sheet) -> float:
    """How tall the texts are that say where arrows go on."""
    return max((text_width(goes_on(fork), CODE, bold=False) + 1.6 for fork in sheet.forks if fork.beyond), default=1.0)


def _beside(
    pen: Pen,
    step: int,
    lines: Sequence[tuple[str, bool]],
    row: tuple[float, float],
    column: tuple[float, float],
    top: float,
) -> None:
    left, room = column
    y = top + (row[0] + row[1]) / 2 - (len(lines) - 1) / 2 * _LINE
    pen.text(str(step), (left + _INDENT - 1.6, y), size=_TITLE, anchor="end", kind="number")
    for line, bold in lines:
        pen.text(line, (left + _INDENT, y), size=_TITLE if bold else _SMALL, bold=bold, anchor="start", kind="beside")
        y += _LINE
    pen.lines("row", [((left, top + row[1]), (left + room, top + row[1]))], 0.1)


def _legend(pen: Pen, sheet: Sheet, chain: Chain, column: tuple[float, float], shapes: Collection[str]) -> float:
    """How long the longest chain takes, and what the signs mean: of shapes and kinds of reasons those on this
    sheet. Returns where it ends."""
    left, room = column
    waiting = f" and {minutes_words(chain.waiting)} of waiting" if chain.waiting else ""
    said = (
        f"Heavy: the longest chain, steps {numbers_words(chain.steps)}. It takes {chain.work:.0f} min of work{waiting} for one "
        "finished thing; each step of it waits for the one before.",
        "A dot: an arrow forks. Lines that cross without a dot do not meet. Left out: arrows that follow from others.",
    )
    y = 8.0
    for line in (line for sentence in said for line in _broken(sentence, _SMALL, room, bold=False)):
        pen.text(line, (left, y), size=_SMALL, bold=False, anchor="start", kind="legend")
        y += _LINE
    _signs(pen, left, y + 0.5, shapes)
    y += _LINE + 1.2
    used = [kind for kind in KINDS if any(kind in link.kinds for link in _shown(sheet))]
    half = max((len(used) + 1) // 2, 1)
    for index, kind in enumerate(used):
        code, meaning = KINDS[kind]
        x, row = left + (room / 2) * (index // half), y + _LINE * (index % half)
        pen.text(code, (x, row), size=_SMALL, anchor="start", kind="code-key")
        pen.text(f"{kind}: {meaning}", (x + 4.6, row), size=_SMALL, bold=False, anchor="start", kind="legend")
    return y + _LINE * half


def _shown(sheet: Sheet) -> Iterable[Link]:
    return (*sheet.straight, *(link for fork in sheet.forks for link in fork.links))


def _signs(pen: Pen, left: float, y: float, shapes: Collection[str]) -> None:
    """One box of each shape with what it means."""
    x = left
    for shape, words in (
        ("student", "student"),
        ("staff", "staff"),
        ("set-up", "staff set the machine or put guards back"),
        ("wait", "wait"),
    ):
        if shape not in shapes:
            continue
        draw_shape(pen, shape, Box(x, y - 1.5, x + 6.0, y + 1.5), THIN)
        pen.text(words, (x + 7.0, y), size=_SMALL, bold=False, anchor="start", kind="legend")
        x += 7.0 + text_width(words, _SMALL, bold=False) + 4.0


def _lane_names(pen: Pen, plan: Plan, sheet: Sheet, foot: float, top: float) -> None:
    """The names of the stations, standing upright over their lanes, and a dotted line down each."""
    titles = {station.station: station.title for station in plan.stations}
    for name, x in sheet.lanes.items():
        title = heading(titles.get(name, name))
        if sum(titles.get(other) == titles.get(name) for other in titles) > 1:
            title = f"{title}, {name}"
        words = title.split(" ")
        cut = min(range(1, len(words) + 1), key=lambda at: max(len(" ".join(words[:at])), len(" ".join(words[at:]))))
        rows = [" ".join(part) for part in (words[:cut], words[cut:]) if part]
        for index, row in enumerate(rows):
            draw_upright(pen, row, (x + (index - (len(rows) - 1) / 2) * 3.2, foot - 0.8), 2.8, bold=True, kind="lane")
        pen.lines("lane-line", [((x, foot), (x, top + sheet.height))], 0.18, "0.2 1.4")
