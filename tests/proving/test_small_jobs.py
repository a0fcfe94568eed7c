"""Small jobs on which a random plan once failed its proof: each has a plan whose proof holds."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.model.job import Allowance, Job, Stock
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from tests.design.jobs import job, joint, part
from tests.features.samples import make
from tests.made import knowledge, workshop

JOBS: dict[str, Job] = {
    "a mortise that is drawn wider than long": replace(
        job(
            [
                part(
                    "rail", "board", 150, 40, 15,
                    make("mortise", name="cut", face="outside", at={"top": 26}, length=10, width=15, along="width", depth=5),
                )
            ],
            [],
            stock=(Stock("board", "European beech", "board", 40, 15, (2400,), hardness="hardwood"),),
        ),
        aim="fewest-set-ups",
    ),
    "short boards planed aslant along an edge while they are one": job(
        [replace(part("board", "board", 90, 90, 20, make("bevel", name="slope", edge="top", low="inside", angle=30)), count=2)],
        [],
        stock=(Stock("board", "rimu", "board", 90, 20, (2400,), hardness="softwood"),),
    ),
    "an opening beside a mitre that takes away most of the edge it is measured from": job(
        [
            part(
                "board", "board", 291, 87, 18,
                make("mitre", name="slope", end="right", long="bottom"),
                make("cut-out", name="opening", face="inside", at={"left": 178, "top": 61}, length=60, width=12),
            )
        ],
        [],
        stock=(Stock("board", "spruce", "board", 87, 18, (2400,), hardness="softwood"),),
    ),
    "a bevel under a part that only stands there dry": job(
        [
            replace(part("post", "post", 180, 81, 12), allowances=(Allowance("right", 15.0, "butt"),)),
            part("base", "base", 300, 87, 22, make("bevel", name="slope", edge="top", low="inside", angle=15)),
        ],
        [replace(joint("butt", "post/left", "base/inside", flush={"bottom": "bottom"}), at=(("left", 100.0),), fixed=("dry",))],
        stock=(
            Stock("post", "spruce", "board", 81, 12, (2400,), hardness="softwood"),
            Stock("base", "spruce", "board", 87, 22, (2400,), hardness="softwood"),
        ),
    ),
    "a small tag of plywood": job(
        [part("tag", "ply", 60, 45, 12)],
        [],
        stock=(Stock("ply", "birch plywood", "sheet", 610, 12, (1220,), hardness="sheet"),),
    ),
    "a moulding on treated wood, which staff work": job(
        [part("rail", "board", 500, 81, 18, make("moulding", name="edge", edges=[("inside", "bottom")], profile="ogee", size=9))],
        [],
        stock=(Stock("board", "treated pine", "board", 90, 18, (2400,), hardness="softwood"),),
    ),
    "a board of which nobody says how long it is bought": job(
        [replace(part("stick", "board", 45, 40, 20, make("groove", name="groove", face="inside", **{"from": "bottom"},
                      distance=8, width=6, depth=5)), count=4)],
        [],
        stock=(Stock("board", "European beech", "board", 40, 20, (), hardness="hardwood"),),
    ),
}  # fmt: skip


@pytest.mark.parametrize("shop", ["full", "well-equipped", "hand-tools"])
@pytest.mark.parametrize("name", JOBS)
def test_a_small_job_comes_out_as_drawn(name: str, shop: str) -> None:
    drawn = JOBS[name]
    plan = make_plan(drawn, workshop(shop), knowledge())
    assert [look.says for look in carry_out(plan, drawn).proof.failures] == []
