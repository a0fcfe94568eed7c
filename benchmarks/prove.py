"""Time to make a plan's thing on solids, and peak memory: the herb caddy and a made-up job of 200 parts with 6 features each.

The making alone is timed in this process, best of several; the command is the best of several runs of a fresh
interpreter, so that imports and planning count. `--profile` prints where the time of the making goes.
"""

from __future__ import annotations

import argparse
import cProfile
import pstats
import sys
import tempfile
import time
from pathlib import Path

from plan_and_print import ROOT, WORKSHOP, large_job, run

from sequencer.pipeline import check, plan, prove


def making(job: Path, runs: int, profile: bool) -> tuple[float, int]:
    """Shortest time to make the thing, s, and how many cuts and joinings were looked at."""
    checked = check(job, WORKSHOP)
    planned, best, looked = plan(checked), float("inf"), 0
    for _ in range(runs):
        start = time.perf_counter()
        _, made = prove(planned, checked.job)
        best, looked = min(best, time.perf_counter() - start), len(made.proof.tasks)
        if not made.proof.held:
            raise SystemExit(f"not proved: {job}")
    if profile:
        profiled = cProfile.Profile()
        profiled.runcall(prove, planned, checked.job)
        pstats.Stats(profiled).sort_stats("tottime").print_stats(15)
    return best, looked


def main() -> None:
    """Print the table."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--runs", type=int, default=3)
    options.add_argument("--profile", action="store_true", help="where the time of the making goes")
    given = options.parse_args()
    start, _ = run([sys.executable, "-c", "pass"], 5)
    print(f"interpreter start {start:.3f} s")
    with tempfile.TemporaryDirectory() as folder:
        large = Path(folder) / "large.yaml"
        large.write_text(large_job(), encoding="utf-8")
        for name, job in (("herb caddy", ROOT / "examples" / "herb-caddy" / "job.yaml"), ("200 parts x 6 features", large)):
            best, looked = making(job, given.runs, given.profile)
            print(f"{name}: making {best:.2f} s, {looked} pieces of work looked at", flush=True)
            command = [sys.executable, "-m", "sequencer", "prove", str(job), "--workshop", str(WORKSHOP)]
            whole, memory = run(command, given.runs)
            print(f"{name}: prove {whole - start:.2f} s beyond start, {memory:.0f} MB", flush=True)


if __name__ == "__main__":
    main()
