"""Time to plan, time to all sheets, peak memory: the herb caddy and a made-up job of 200 parts with 6 features each.

Every figure is the best of several runs of a fresh interpreter, so that imports count. `--small` leaves the sheets of
the large job out.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
WORKSHOP = ROOT / "examples" / "workshops" / "full.yaml"

_PART = """  part-{number}:
    count: 2
    stock: board
    length: {length}
    width: 90
    thickness: 15
    features:
      long-groove: {{kind: groove, face: inside, from: bottom, distance: 8, width: 6, depth: 5}}
      left-housing: {{kind: housing, face: inside, from: left, distance: 30, width: 15, depth: 5}}
      right-housing: {{kind: housing, face: inside, from: right, distance: 30, width: 15, depth: 5}}
      middle-hole: {{kind: hole, face: inside, diameter: 10, at: {{left: {middle}, bottom: 45}}}}
      peg-hole: {{kind: hole, face: inside, diameter: 8, depth: 8, at: {{left: {peg}, bottom: 60}}}}
      top-chamfer: {{kind: chamfer, edges: [inside/top], size: 3}}
"""


def large_job(parts: int = 200) -> str:
    """A job of that many parts with six features each, no joints."""
    head = (
        "job: Made-up large job\n"
        "stock:\n  board: {material: radiata pine, form: board, width: 90, thickness: 15, lengths: [2400, 3000]}\n"
        "parts:\n"
    )
    return head + "".join(
        _PART.format(number=number, length=300 + number, middle=150 + number % 40, peg=90 + number % 20)
        for number in range(1, parts + 1)
    )


def run(words: list[str], runs: int = 1) -> tuple[float, float]:
    """Shortest wall time of a command over several runs, s, and the highest memory of any of them, MB."""
    best, most = float("inf"), 0.0
    for _ in range(runs):
        start = time.perf_counter()
        process = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            raise SystemExit(f"failed: {' '.join(words)}")
        best, most = min(best, time.perf_counter() - start), max(most, used.ru_maxrss / 1024)
    return best, most


_LAYOUT_ONLY = """
import sys, time
from pathlib import Path
from weasyprint import HTML
def nothing(url, *a, **k):
    raise ValueError(url)
for name in sys.argv[1:]:
    HTML(filename=name).write_pdf()
"""


def main() -> None:
    """Print the table."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--small", action="store_true", help="no sheets of the large job")
    options.add_argument("--runs", type=int, default=3)
    given = options.parse_args()
    tool = [sys.executable, "-m", "sequencer"]
    start, _ = run([sys.executable, "-c", "pass"], 5)
    print(f"interpreter start {start:.3f} s")
    with tempfile.TemporaryDirectory() as folder:
        large = Path(folder) / "large.yaml"
        large.write_text(large_job(), encoding="utf-8")
        for name, job, sheets in (
            ("herb caddy", ROOT / "examples" / "herb-caddy" / "job.yaml", True),
            ("200 parts x 6 features", large, not given.small),
        ):
            common = [str(job), "--workshop", str(WORKSHOP)]
            planned, memory = run([*tool, "plan", *common], given.runs)
            print(f"{name}: plan {planned - start:.2f} s beyond start, {memory:.0f} MB", flush=True)
            if not sheets:
                continue
            out = Path(folder) / name.replace(" ", "-")
            runs = given.runs if name == "herb caddy" else 1
            papers, memory = run([*tool, "papers", *common, "--out", str(out), "--date", "2027-02-01"], runs)
            print(f"{name}: papers {papers:.2f} s, {memory:.0f} MB", flush=True)
            layout, memory = run([sys.executable, "-c", _LAYOUT_ONLY, *(str(page) for page in sorted(out.glob("*.html")))], runs)
            print(f"{name}: layout alone {layout:.2f} s, {memory:.0f} MB; ratio of times {papers / layout:.2f}")


if __name__ == "__main__":
    main()
