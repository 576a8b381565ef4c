"""Fuzz every parser, guided by coverage: ten thousand inputs each, seeded, one process a parser.

    .venv/bin/pip install --target .venv/fuzzer atheris==3.0.0
    .venv/bin/python tests/fuzzing.py                 all of them, a line each
    .venv/bin/python tests/fuzzing.py shop 100000     one, for longer

Atheris drives libFuzzer: it keeps every input that reaches code which none reached before, and makes others of it. From
memory, it has no wheels for Windows: so it isn't in the lock, and CI does without it. Its finds go into the tests.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from pathlib import Path

RUNS, SEED = 10_000, 15
HERE = Path(__file__).resolve().parent
_READS = ["stonework", "tomllib", "csv", "json"]


def fuzz(name: str, runs: int, corpus: str) -> None:
    """Fuzz one parser in this process, which ends with it."""
    import atheris

    with atheris.instrument_imports(include=_READS):
        from parsers import PARSERS, fault_of

    parser = PARSERS[name]
    for n, good in enumerate(parser.good):
        Path(corpus, f"good {n}").write_bytes(good)

    def meet(data: bytes) -> None:
        fault = fault_of(parser, data)
        if fault:
            raise AssertionError(fault)

    most = max(map(len, parser.good)) * 2 + 200
    atheris.Setup([sys.argv[0], f"-runs={runs}", f"-seed={SEED}", f"-max_len={most}", "-timeout=20", corpus], meet)
    atheris.Fuzz()


def in_a_process(name: str, runs: int) -> bool:
    """Fuzz one parser in a process of its own, print what came of it, and say whether it stood."""
    with tempfile.TemporaryDirectory() as corpus:
        run = [sys.executable, __file__, name, str(runs), corpus]
        done = subprocess.run(run, capture_output=True, text=True, errors="replace", cwd=corpus)
    said = done.stderr
    covered = re.findall(r"cov: (\d+) ft: (\d+)", said)
    inputs = re.findall(r"Done (\d+) runs in (\d+) second", said)
    if done.returncode == 0 and inputs:
        print(f"{name}: {inputs[-1][0]} inputs, {covered[-1][0]} edges, nothing found", flush=True)
        return True
    faults = [line for line in said.splitlines() if "Error" in line or "SUMMARY" in line]
    print(f"{name}: {' | '.join(faults[:3])[:600] or said[-600:]}", flush=True)
    return False


def main(arguments: list[str]) -> int:
    """Fuzz what is named, or everything."""
    sys.path[:0] = [str(HERE), str(HERE.parent / ".venv" / "fuzzer")]
    if len(arguments) == 3:
        fuzz(arguments[0], int(arguments[1]), arguments[2])
        return 0
    try:
        import atheris  # noqa: F401 - only to say in words that it is missing
    except ImportError:
        print("Atheris isn't here; the head of this file says how to fetch it.")
        return 1
    from parsers import PARSERS

    names = [arguments[0]] if arguments else list(PARSERS)
    runs = int(arguments[1]) if len(arguments) > 1 else RUNS
    return 0 if all([in_a_process(name, runs) for name in names]) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
