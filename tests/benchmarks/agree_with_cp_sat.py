"""Ask our solver and CP-SAT the same random questions of whole shops, half of them scarce, and compare.

Run by hand: ``python tests/benchmarks/agree_with_cp_sat.py [questions] [seconds for CP-SAT]``. CP-SAT takes seconds
where ours takes milliseconds, so the suite itself asks but a few of these.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from second_opinion import Opinion, opinion
from whole_shops import FILES, whole


def main(questions: int, limit: float) -> None:
    counts: Counter[str] = Counter()
    ratios, slow = [], []
    for seed in range(questions):
        start = time.perf_counter()
        said: Opinion = opinion(whole(seed), limit)
        counts[said.verdict] += 1
        ratios.append(said.theirs / said.ours)
        slow.append(1000 * said.ours)
        if said.verdict.startswith("differ"):
            print(f"seed {seed}, {FILES[seed % len(FILES)].name}: {said}", flush=True)
        if time.perf_counter() - start > 2 * limit:
            print(f"seed {seed} took long: {said.verdict}", flush=True)
    print(*(f"{count:>5} {words}" for words, count in counts.most_common()), sep="\n")
    ratios.sort()
    slow.sort()
    print(
        f"CP-SAT takes {statistics.median(ratios):.0f} times as long at the median, quarters "
        f"{ratios[len(ratios) // 4]:.0f} and {ratios[3 * len(ratios) // 4]:.0f}. "
        f"Ours takes {statistics.median(slow):.0f} ms, 99 of 100 at most {slow[int(0.99 * (len(slow) - 1))]:.0f} ms."
    )


if __name__ == "__main__":
    asked = [float(number) for number in sys.argv[1:]]
    main(int(asked[0]) if asked else 40, asked[1] if len(asked) > 1 else 20.0)
