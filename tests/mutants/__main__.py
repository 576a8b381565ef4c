"""Puts one small thing wrong in the computing modules, a thousand times over, and counts how often the tests notice.

.venv/bin/python tests/mutants                                  # a thousand of all: an hour or more
.venv/bin/python tests/mutants --only spacing.py --sample 50    # fifty of one module
.venv/bin/python tests/mutants --again                          # only those that survived the last time
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from covering import Covering
    from mutant import Mutant

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
CACHE = Path(os.environ.get("XDG_CACHE_HOME", Path.home() / ".cache")) / "stonework-mutants"
LAST = CACHE / "last.json"

# What is mutated: all that computes up to floor 5, but for planning and the ledger, whose tests take minutes.
PARTS = (
    *("saying.py", "units.py", "files.py", "shop", "form.py", "people", "lockup", "stacking.py", "building"),
    *("placing.py", "choosing", "rules", "laying.py", "moving", "weighing.py", "pressing", "tightening.py"),
    *("spacing.py", "putting_away.py", "records", "rounds.py", "readiness.py"),
)
# The tests of all that, by their files' names.
TESTS = (
    *("units", "form", "shop", "shop_file", "people", "lockup", "stacking", "building", "placing", "choosing"),
    *("chosen_lockups", "reasons", "rules", "balance", "laying", "exchanging", "squaring", "weighing", "pressing"),
    *("tightening", "turning", "spacing", "putting_away", "records", "rounds", "readiness", "parts", "any_shop"),
    *(
        "shop_slips",
        "turned_forms",
        "doubts",
        "broken_toml",
        "two_ends",
        "kept_beside",
        "remeasured_chases",
        "blocks_round",
    ),
    *("saying", "files", "shop_lines", "lockup_values", "bad_input"),
)


def main() -> None:
    """Do as the command line says."""
    parser = argparse.ArgumentParser(prog="tests/mutants", description=__doc__.partition("\n")[0])
    parser.add_argument("--sample", type=int, default=1000, help="how many to try")
    parser.add_argument("--seed", type=int, default=1, help="which of them")
    parser.add_argument("--only", nargs="+", default=PARTS, help="modules or packages to put something wrong in")
    parser.add_argument("--tests", nargs="+", default=TESTS, help="which tests to ask, as in tests/test_….py")
    parser.add_argument("--budget", type=float, default=20, help="seconds of tests that a mutant must survive")
    parser.add_argument("--again", action="store_true", help="try only those that survived the last time")
    parser.add_argument("--go-on", action="store_true", help="keep what a run that was broken off has tried")
    parser.add_argument("--slow", type=float, default=3, help="seconds from which on a test isn't asked")
    asked = parser.parse_args()
    fetch_tools()
    from making import mutants
    from telling import known, tell
    from trying import CAUGHT, SURVIVED, TIMED_OUT, Trial

    with tempfile.TemporaryDirectory(prefix="stonework-mutants-") as folder:
        copy = Path(folder) / "workbook"
        lay_copy(copy)
        package = copy / "widgets" / "stonework"
        made = [
            mutant
            for part in asked.only
            for path in ([package / part] if part.endswith(".py") else sorted((package / part).rglob("*.py")))
            for mutant in mutants(path, package)
        ]
        print(f"{len(made):,} mutants can be made.", flush=True)
        last = json.loads(LAST.read_text(encoding="utf-8")) if asked.again or asked.go_on else {}
        if asked.again:
            chosen = [mutant for mutant in made if last.get(mutant.key) not in (None, CAUGHT, TIMED_OUT)]
        else:
            chosen = random.Random(asked.seed).sample(made, min(asked.sample, len(made)))
        trial = Trial(copy, measured(copy, [f"tests/test_{name}.py" for name in asked.tests], asked.slow), asked.budget)
        if set(ways := trial.unchanged()) != {SURVIVED}:
            said = (copy.parent / "said.txt").read_text(encoding="utf-8")
            sys.exit(
                f"{said}\nThe unchanged workbook doesn't pass its own tests here ({', '.join(ways)}), "
                "so nothing could be learnt."
            )
        tried = last if asked.go_on else {}
        started, outcomes = time.monotonic(), {}
        for n, mutant in enumerate(chosen, 1):
            outcomes[mutant] = tried.get(mutant.key) or trial.outcome(mutant)
            if outcomes[mutant] != CAUGHT and mutant.key not in tried:
                print(f"{n}: {outcomes[mutant]}: {mutant.name} (line {mutant.lines.start})", flush=True)
            if n % 20 == 0:
                keep(last, outcomes)
                print(f"{n} of {len(chosen)} tried in {(time.monotonic() - started) / 60:.1f} min.", flush=True)
        trial.close()
    keep(last, outcomes)
    print(tell(outcomes, len(made), known(HERE / "survivors.md")))


def keep(last: dict[str, str], outcomes: Mapping[Mutant, str]) -> None:
    """Keep what came of each mutant, with what is kept of the last run, for ``--again`` and ``--go-on``."""
    kept = last | {mutant.key: what for mutant, what in outcomes.items()}
    LAST.write_text(json.dumps(kept), encoding="utf-8")


def fetch_tools() -> None:
    """Fetch what only this command needs into a folder of its own, and let it be imported after all else."""
    wanted = HERE / "requirements.txt"
    tools = CACHE / "tools"
    if not tools.exists() or (tools / wanted.name).read_bytes() != wanted.read_bytes():
        shutil.rmtree(tools, ignore_errors=True)
        subprocess.run([sys.executable, "-m", "pip", "install", "-q", "--target", tools, "-r", wanted], check=True)
        shutil.copy(wanted, tools)
    sys.path.append(str(tools))


def lay_copy(to: Path) -> None:
    """Copy the workbook's own files, as they are now."""
    listing = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    for name in subprocess.run(listing, cwd=ROOT, check=True, capture_output=True, text=True).stdout.split("\0"):
        if name and (ROOT / name).is_file():
            (to / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, to / name)


def measured(copy: Path, files: list[str], slow: float) -> Covering:
    """Run the tests once with nothing wrong, and return which of them run which lines.

    What a file of tests covers is kept until it changes, or the package, or what tests share.
    """
    from covering import Covering

    shared = [path for path in sorted(copy.rglob("*")) if _is_shared(path.relative_to(copy))]
    same = hashlib.sha256(b"".join(path.read_bytes() for path in [HERE / "covering.py", *shared]))
    surroundings = {**os.environ, "PYTHONPATH": str(copy / "widgets")}

    def one(file: str) -> Path:
        key = same.copy()
        key.update((copy / file).read_bytes() + str(slow).encode())
        to = CACHE / "covering" / f"{Path(file).stem}-{key.hexdigest()[:20]}.json"
        if not to.exists():
            to.parent.mkdir(parents=True, exist_ok=True)
            command = [sys.executable, HERE / "covering.py", CACHE / "tools", copy, to, file, str(slow)]
            subprocess.run(command, cwd=copy, check=True, env=surroundings, stdout=subprocess.DEVNULL)
            print(f"{file} measured.", flush=True)
        return to

    with ThreadPoolExecutor(os.cpu_count()) as pool:
        return Covering.read(list(pool.map(one, files)))


def _is_shared(path: Path) -> bool:
    """Whether a file of the workbook may change what any test covers."""
    ours = path.parts[:2] == ("widgets", "stonework") or path.parts[0] in ("tests", "lessons")
    apart = path.name.startswith("test_") or path.parent.name == "mutants"
    return ours and not apart and path.suffix in (".py", ".toml")


if __name__ == "__main__":
    main()
