"""How long a class on one server waits, and how much memory it takes: a hub with its students coming all at once.

Run by hand, on Linux: ``python tests/benchmarks/bench_hub.py [students ...]``; 12 and then 30 if none are named.
"""

from __future__ import annotations

import os
import re
import statistics
import sys
import tempfile
import time
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import psutil

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from hub import rehearsal
from hub.visitor import Visitor

LESSON = "lessons/01-measure-the-form.ipynb"

MEASURED = """\
All students log in at the same moment, for the first time, each from a thread of this program, without a browser.
“Server” is from then until JupyterLab answers, “panel” until their lesson's first panel stands, “lesson” until the
whole lesson has run. Memory is what the processes have for themselves and their share of what they have in common
(PSS), in MB, after that. The processors' own seconds say what it takes even where others work on the machine too.
"""


def pss(processes: Iterable[psutil.Process]) -> float:
    """Return the memory of processes in MB: each one's own, and its share of what it shares."""
    said = (Path(f"/proc/{process.pid}/smaps_rollup").read_text() for process in processes)
    return sum(int(re.search(r"^Pss:\s+(\d+)", rollup, re.MULTILINE)[1]) for rollup in said) / 1000


def evening(student: Visitor) -> list[float]:
    """Come in and run a lesson; return the seconds until the server, the first panel and the end."""
    start = time.perf_counter()
    student.come_in()
    seconds = [time.perf_counter() - start]
    for cell in student.open(LESSON):
        shown = student.run(cell)
        if len(seconds) == 1 and shown.startswith("<"):
            seconds.append(time.perf_counter() - start)
    return [*seconds, time.perf_counter() - start]


def measure(students: int) -> None:
    """Print how long a class of that size waits, and what it takes."""
    names = [f"student{n}" for n in range(students)]
    with (
        tempfile.TemporaryDirectory(prefix="stonework-hub-") as place,
        rehearsal.hub(Path(place), names) as (address, process),
        ThreadPoolExecutor(students) as pool,
    ):
        visitors = [Visitor(address, name) for name in names]
        waits = list(pool.map(evening, visitors))
        print(f"\n{students} students: seconds at the median and for the last")
        for words, seconds in zip(("server", "panel", "lesson"), zip(*waits, strict=True), strict=True):
            print(f"  {words:<8}{statistics.median(seconds):>8.1f}{max(seconds):>8.1f}")
        parts = process.children()
        servers = [part for part in parts if any("student.py" in word for word in part.cmdline())]
        proxies = [part for part in parts if part not in servers]
        kernels = [kernel for server in servers for kernel in server.children(recursive=True)]
        assert len(servers) == len(kernels) == students and len(proxies) == 1
        hub, proxy = pss([process]), pss(proxies)
        server, kernel = pss(servers) / students, pss(kernels) / students
        print(
            f"  MB: hub {hub:.0f}, proxy {proxy:.0f}, and of each student server {server:.0f} and kernel {kernel:.0f}"
        )
        print(f"  MB in all: {hub + proxy + students * (server + kernel):.0f}")
        spent = [part.cpu_times() for part in (process, *parts, *kernels)]
        busy = sum(times.user + times.system for times in spent) / students
        print(f"  a processor's seconds for each student: {busy:.1f}")
        for visitor in visitors:
            visitor.leave()


if __name__ == "__main__":
    print(MEASURED)
    print(f"{os.cpu_count()} cores, {psutil.virtual_memory().total / 1e9:.0f} GB of memory")
    for size in [int(number) for number in sys.argv[1:]] or [12, 30]:
        measure(size)
