"""Which tests run which lines, and how long each of them takes."""

from __future__ import annotations

import json
import signal
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

import pytest

HEAD = ""
"""In the place of a test: what a module does when it's imported."""

ARGUMENTS = (
    *("-c", ".pytest.ini", "-o", "addopts=", "-q", "-x"),
    *("-p", "no:cacheprovider", "-p", "no:nbval", "-m", "not browser"),
)
"""What pytest is always told here: none of the lessons, none of the browser's journeys."""


@dataclass(frozen=True)
class Covering:
    """Which tests run which lines, and how long each of them takes."""

    seconds: dict[str, float]
    """How long each test takes, what it needs that is made once among it, in seconds of a processor."""
    own: dict[str, float]
    """How long each test takes once that is made."""
    tests: dict[str, dict[int, list[str]]]
    """For each module and line the tests that run it."""

    @classmethod
    def read(cls, paths: Iterable[Path]) -> Covering:
        """Read what :func:`measure` wrote for each file of tests."""
        seconds: dict[str, float] = {}
        own: dict[str, float] = {}
        tests: dict[str, dict[int, list[str]]] = defaultdict(lambda: defaultdict(list))
        for path in paths:
            kept = json.loads(path.read_text(encoding="utf-8"))
            seconds |= kept["seconds"]
            own |= kept["own"]
            for module, rows in kept["tests"].items():
                for line, names in rows.items():
                    tests[module][int(line)] += names
        return cls(seconds, own, tests)

    def of(self, module: str, lines: range, statement: int) -> list[str]:
        """Return the tests that run any of these lines, the fastest first.

        What is run when the module is imported is run for all that use the module.
        """
        rows = self.tests.get(module, {})
        found = {test for line in lines for test in rows.get(line, ())}
        found = found or set(rows.get(statement, ()))
        if HEAD in found:
            found |= {test for tests in rows.values() for test in tests}
        return sorted(found & self.seconds.keys(), key=lambda test: (self.seconds[test], test))

    def beside(self, module: str) -> list[str]:
        """Return the tests that run any line of the module, the fastest first."""
        found = {test for tests in self.tests.get(module, {}).values() for test in tests}
        return sorted(found & self.seconds.keys(), key=lambda test: (self.seconds[test], test))


class _Noting:
    """A plug-in for pytest that tells coverage whose lines are being run.

    What is made once for several tests is run for every test that asks for it. A test that takes longer than ``most``
    seconds of a processor is given up, and not asked later.
    """

    def __init__(self, switch: Callable[[str], object], most: float) -> None:
        self.switch = switch
        self.most = most
        signal.signal(signal.SIGPROF, self._late)
        self.now = HEAD
        self.own: dict[str, float] = {}
        self.making: dict[str, float] = {}
        self.asked: dict[str, tuple[str, ...]] = {}
        self.skipped: set[str] = set()

    def _switch(self, to: str) -> str:
        before, self.now = self.now, to
        self.switch(to)
        return before

    def _late(self, _number: int, frame: FrameType | None) -> None:
        if frame and "stonework" in Path(frame.f_code.co_filename).parts:
            pytest.skip("This takes too long.")
        # Anything else may be holding a lock that it would then never give back.
        signal.setitimer(signal.ITIMER_PROF, 0.01)

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        before = self._switch(item.nodeid)
        _forget(item)
        self.asked[item.nodeid] = tuple(getattr(item, "fixturenames", ()))
        started, made = time.process_time(), sum(self.making.values())
        done = yield
        self.own[item.nodeid] = time.process_time() - started - (sum(self.making.values()) - made)
        self._switch(before)
        return done

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_call(self) -> Iterator[None]:
        signal.setitimer(signal.ITIMER_PROF, self.most)
        try:
            return (yield)
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: pytest.FixtureDef) -> Iterator[object]:
        if fixturedef.scope == "function":
            return (yield)
        name = f"made once: {fixturedef.argname}"
        before, started = self._switch(name), time.process_time()
        try:
            return (yield)
        finally:
            self.making[name] = time.process_time() - started
            self._switch(before)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.skipped:
            self.skipped.add(report.nodeid)


def _forget(item: pytest.Item) -> None:
    """Let a test reckon for itself what one before it has kept: when it's asked of a mutant, none was before it."""
    for one in vars(getattr(item, "module", None) or item).values():
        if callable(forget := getattr(one, "cache_clear", None)):
            forget()


def measure(root: Path, file: str, to: Path, most: float) -> None:
    """Run a file of tests in the copy at ``root`` and write to another what they cover. Wants a process of its own."""
    import coverage

    package = root / "widgets" / "stonework"
    cov = coverage.Coverage(data_file=None, source=[str(package)], config_file=False, messages=False)
    noting = _Noting(cov.switch_context, most)
    cov.start()
    status = pytest.main([*ARGUMENTS, file], plugins=[noting])
    cov.stop()
    if status != pytest.ExitCode.OK:
        sys.exit("A test fails without any mutant, so nothing could be learnt from it.")
    once: dict[str, list[str]] = defaultdict(list)
    seconds: dict[str, float] = {}
    for test, own in noting.own.items():
        shared = [f"made once: {name}" for name in noting.asked[test]]
        for name in shared:
            once[name].append(test)
        if test not in noting.skipped:
            seconds[test] = own + sum(noting.making.get(name, 0) for name in shared)
    data = cov.get_data()
    tests = {
        Path(file).relative_to(package).as_posix(): {
            line: sorted({test for context in contexts for test in once.get(context, (context,))})
            for line, contexts in data.contexts_by_lineno(file).items()
        }
        for file in data.measured_files()
    }
    to.write_text(json.dumps({"seconds": seconds, "own": noting.own, "tests": tests}), encoding="utf-8")


if __name__ == "__main__":
    sys.path.append(sys.argv[1])
    measure(Path(sys.argv[2]), sys.argv[4], Path(sys.argv[3]), float(sys.argv[5]))
