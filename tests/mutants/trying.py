"""Tries mutants, one at a time, each in a fork of a process that has all that isn't changed imported already.

Most are put into functions that are loaded (see swapping.py). What a module does when it's imported can't be changed
so: such a mutant is tried in a fork that has imported only what isn't ours.
"""

from __future__ import annotations

import compileall
import contextlib
import gc
import importlib
import os
import resource
import shutil
import signal
import sys
import tempfile
import traceback
from collections.abc import Callable, Iterable, Mapping, Sequence
from multiprocessing import Pipe
from multiprocessing.connection import Connection
from pathlib import Path

import pytest
from covering import ARGUMENTS, Covering
from mutant import Mutant
from swapping import loaded, swapped

CAUGHT, TIMED_OUT, SURVIVED, NOT_RUN = "caught", "timed out", "survived", "run by no test"

PATIENCE = 4.0
"""Seconds of a processor that a test may take on top of ten times its own time.

By the clock it may take ten times that, as others may be at work on the machine.
"""
STARTING = 120.0
"""Seconds until the first test must have started."""
ROOM = 8 * 2**30
"""Bytes of memory that a mutant may take."""
NOT_OURS = (
    *("numpy", "pint", "matplotlib.figure", "hypothesis", "scipy.optimize", "shapely", "ortools.sat.python.cp_model"),
)
"""What takes long to import and is the same in every mutant."""
PLAINLY = ("--assert=plain", "--capture=no")
"""pytest needn't rewrite what is asserted: nobody reads why a mutant fell."""
CANT_SWAP = 77
"""What a fork ends with if a mutant can't be put into functions that are loaded."""


def file_of(test: str) -> str:
    """Return the file that a test stands in."""
    return test.partition("::")[0]


def run_apart(do: Callable[[], int]) -> str | None:
    """Run tests in a fork, where 0 is well, and say what came of it; ``None`` if the mutant couldn't be put there."""
    child = os.fork()
    if not child:
        status = 99
        try:
            os.setsid()
            resource.setrlimit(resource.RLIMIT_AS, (ROOM, ROOM))
            for late in (signal.SIGALRM, signal.SIGPROF):
                signal.signal(late, signal.SIG_DFL)
            signal.setitimer(signal.ITIMER_REAL, STARTING)
            status = int(do())
        except BaseException:
            traceback.print_exc()
        finally:
            sys.stdout.flush()
            sys.stderr.flush()
            os._exit(status)
    _, status = os.waitpid(child, 0)
    with contextlib.suppress(ProcessLookupError):
        os.killpg(child, signal.SIGKILL)  # what a test has started and left behind
    if os.WIFSIGNALED(status):
        return TIMED_OUT if os.WTERMSIG(status) in (signal.SIGALRM, signal.SIGPROF) else CAUGHT
    if os.WEXITSTATUS(status) == CANT_SWAP:
        return None
    return SURVIVED if os.WEXITSTATUS(status) == 0 else CAUGHT


class _Asked:
    """A plug-in for pytest: runs only the tests named, in their order, and ends the process with the first to fail."""

    def __init__(self, seconds: dict[str, float], tests: Sequence[str] = ()) -> None:
        self.seconds = seconds
        self.tests = tests

    def pytest_collection(self) -> None:
        # Any example that fails is enough: nobody here reads the smallest.
        from hypothesis import Phase, settings

        phases = (Phase.explicit, Phase.generate)
        settings.register_profile("mutants", settings.get_profile("same"), phases=phases)
        settings.load_profile("mutants")

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.run({item.nodeid: item for item in session.items}, self.tests)
        return True

    def run(self, items: Mapping[str, pytest.Item], tests: Sequence[str]) -> int:
        # A mutant that changes a test's name leaves nothing to run; that's nothing to be caught by.
        asked = [items[test] for test in tests if test in items]
        for item, following in zip(asked, [*asked[1:], None], strict=False):
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
        return 0

    def pytest_runtest_setup(self, item: pytest.Item) -> None:
        seconds = PATIENCE + 10 * self.seconds[item.nodeid]
        signal.setitimer(signal.ITIMER_PROF, seconds)
        signal.setitimer(signal.ITIMER_REAL, 10 * seconds)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            sys.stdout.flush()
            os._exit(1)


class _Loaded(_Asked):
    """The same with all tests loaded, for one mutant after another as it comes by a pipe."""

    def __init__(self, seconds: dict[str, float], pipe: Connection) -> None:
        super().__init__(seconds)
        self.pipe = pipe

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        items, functions = {item.nodeid: item for item in session.items}, loaded()
        gc.collect()
        gc.freeze()  # so that a fork needn't copy what it never changes
        self.pipe.send(len(items))
        while asked := self.pipe.recv():
            path, old, new, tests = asked

            def changed(path: str = path, old: str = old, new: str = new, tests: Sequence[str] = tests) -> int:
                return self.run(items, tests) if old == new or swapped(functions, path, old, new) else CANT_SWAP

            self.pipe.send(run_apart(changed))
        return True


class Trial:
    """A copy of the workbook in which one mutant after another is tried."""

    def __init__(self, root: Path, covering: Covering, budget: float) -> None:
        self.root = root
        self.covering = covering
        self.budget = budget
        os.chdir(root)
        compileall.compile_dir(root, quiet=2)
        self.scratch = root.parent / "scratch"
        self.scratch.mkdir()
        tempfile.tempdir = None
        os.environ |= {
            "PYTHONDONTWRITEBYTECODE": "1",  # or a mutant's bytecode might be taken for the module's
            "PYTHONPATH": str(root / "widgets"),
            "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1",
            "TMPDIR": str(self.scratch),
        }
        sys.dont_write_bytecode = True
        sys.path.insert(0, str(root / "widgets"))
        for name in NOT_OURS:
            importlib.import_module(name)
        self.pipe, there = Pipe()
        if not os.fork():
            self._say_elsewhere()
            try:
                self._pytest(covering.seconds, _Loaded(covering.seconds, there))
            finally:
                sys.stdout.flush()
                os._exit(0)
        there.close()
        if self.pipe.recv() == 0:
            raise ValueError("There are no tests to ask.")
        self.kept = {path.name for path in self.scratch.iterdir()}

    def close(self) -> None:
        """Let the process end that has the tests loaded."""
        self.pipe.send(None)

    def tests(self, mutant: Mutant) -> list[str]:
        """Return the tests for a mutant: those that run its lines, then others of its module, while time lasts.

        The files that are named for the module come first, and of each the fastest tests.
        """
        run = self.covering.of(mutant.module, mutant.lines, mutant.statement)
        words = set(mutant.module.removesuffix(".py").replace("/", "_").split("_"))
        run.sort(key=lambda test: (-len(words & set(Path(file_of(test)).stem.split("_"))), self.covering.own[test]))
        chosen: list[str] = []
        spent = 0.0
        for test in dict.fromkeys([*run, *self.covering.beside(mutant.module)] if run else ()):
            spent += self.covering.own[test]
            if chosen and spent > self.budget:
                break
            chosen.append(test)
        return chosen

    def unchanged(self) -> list[str]:
        """Say what comes of no change, twice with tests loaded and once afresh: all of it should survive."""
        files: dict[str, list[str]] = {}
        for test in sorted(self.covering.seconds, key=self.covering.seconds.__getitem__):
            files.setdefault(file_of(test), []).append(test)
        few = [test for tests in files.values() for test in tests[:3]]
        return [str(self._loaded("", "", "", few)), str(self._loaded("", "", "", few)), self._afresh(few)]

    def outcome(self, mutant: Mutant) -> str:
        """Say what comes of a mutant."""
        tests = self.tests(mutant)
        if not tests:
            return NOT_RUN
        path = self.root / "widgets" / "stonework" / mutant.module
        was, times = path.read_bytes(), path.stat()
        new = mutant.source()
        path.write_text(new, encoding="utf-8")  # for those tests that start a Python of their own
        try:
            return self._loaded(str(path), was.decode("utf-8"), new, tests) or self._afresh(tests)
        finally:
            path.write_bytes(was)
            os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))

    def _loaded(self, path: str, old: str, new: str, tests: Sequence[str]) -> str | None:
        self.pipe.send((path, old, new, tests))
        outcome = self.pipe.recv()
        self._tidy()
        return outcome

    def _afresh(self, tests: Sequence[str]) -> str:
        def changed() -> int:
            self._say_elsewhere()
            return self._pytest(tests, _Asked(self.covering.seconds, tests))

        outcome = run_apart(changed)
        self._tidy()
        return str(outcome)

    def _pytest(self, tests: Iterable[str], plugin: _Asked) -> int:
        return pytest.main([*ARGUMENTS, *PLAINLY, *sorted({file_of(test) for test in tests})], plugins=[plugin])

    def _say_elsewhere(self) -> None:
        said = os.open(self.root.parent / "said.txt", os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(said, 1)
        os.dup2(said, 2)

    def _tidy(self) -> None:
        """Take away what a fork has left behind: the next would begin with it."""
        for path in self.scratch.iterdir():
            for one in path.iterdir() if path.name in self.kept and path.is_dir() else [path]:
                shutil.rmtree(one, ignore_errors=True) if one.is_dir() else one.unlink(missing_ok=True)
