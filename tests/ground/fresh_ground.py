"""Run the README's two commands where nothing was before, and print how long each took.

    python3 tests/ground/fresh_ground.py                       everything, the whole of the tests included
    python3 tests/ground/fresh_ground.py -- tests/test_units.py    what follows -- goes to "test"
    python3 tests/ground/fresh_ground.py --way archive --python /usr/bin/python3.13 -- -k units

The ground is a folder with a new home, no caches, no settings of pip's but where its registry is, and a name with
spaces, quotes and accents; its parent can't be written to. The workbook comes there in three ways: by git from a bare
clone; as an archive, unpacked, on a machine without git; and with a proxy that fails, which must end in one sentence.
Only committed files are there. Root isn't stopped by a folder that can't be written to: then all runs as nobody.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
WINDOWS = os.name == "nt"
NAME = "Ana's print room, café Ødegård" if WINDOWS else 'Ana\'s "print room", café Ødegård'
LESSON = "lessons/00-start-here.ipynb"
TOKEN = "breakwater"
NOBODY = 65534
LONGEST = 600  # seconds until a lesson must be there
REGISTRY = ("PIP_INDEX_URL", "PIP_CERT", "PIP_PROXY", "HTTPS_PROXY", "SSL_CERT_FILE", "SYSTEMROOT")
FAILING_PROXY = "http://127.0.0.1:9"  # the port of "discard", where nobody listens


class Ground:
    """A folder where nothing was before, with a home of its own."""

    def __init__(self, place: Path, python: str, *, git: bool) -> None:
        self.parent = place / NAME
        self.home, self.tools, self.workbook = place / "home", place / "tools", self.parent / "stonework"
        for folder in (self.workbook, self.home, self.tools):
            folder.mkdir(parents=True)
        (self.tools / "python3").symlink_to(python) if not WINDOWS else None
        self.python = python if WINDOWS else "python3"
        path = [str(self.tools), *(os.environ["PATH"].split(os.pathsep) if git else [])]
        self.environment = {name: os.environ[name] for name in REGISTRY if name in os.environ} | {
            "PATH": os.pathsep.join(path),
            "HOME": str(self.home),
            "USERPROFILE": str(self.home),
            "TMPDIR": str(self.home),
            "LANG": "C.UTF-8",
            "PIP_CONFIG_FILE": os.devnull,
        }
        self.as_user: dict = {}

    def close(self) -> None:
        """Let nobody write beside the workbook, nor root."""
        if WINDOWS:
            return
        if os.geteuid() == 0:
            self.as_user = {"user": NOBODY, "group": NOBODY, "extra_groups": []}
            for folder in (self.workbook, self.home):
                for path in [folder, *folder.rglob("*")]:
                    os.chown(path, NOBODY, NOBODY, follow_symlinks=False)
        self.parent.chmod(0o555)

    def start(self, *arguments: str, **options: object) -> subprocess.Popen:
        """Give one of the launcher's commands, as the README writes it."""
        command = [self.python, "lessons/workbook.py", *arguments]
        return subprocess.Popen(command, cwd=self.workbook, env=self.environment, **self.as_user, **options)


def by_git(ground: Ground) -> None:
    """Clone the workbook from a bare clone."""
    bare = ground.home / "stonework.git"
    for source, target, how in ((ROOT, bare, ["--bare"]), (bare, ground.workbook, [])):
        subprocess.run(["git", "clone", "--quiet", *how, str(source), str(target)], check=True)


def by_archive(ground: Ground) -> None:
    """Unpack what a download of the workbook holds."""
    archive = ground.home / "stonework.zip"
    subprocess.run(["git", "archive", "--output", str(archive), "HEAD"], cwd=ROOT, check=True)
    shutil.unpack_archive(archive, ground.workbook)


def opened(ground: Ground) -> str:
    """Give the first command, and look until the lesson is there; say what was seen."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    options = ["--no-browser", f"--ServerApp.port={port}", f"--IdentityProvider.token={TOKEN}"]
    address = f"http://127.0.0.1:{port}"
    with (ground.parent.parent / "open.log").open("w+b") as log:
        started = ground.start("open", *options, stdout=log, stderr=log)
        try:
            page = _get(f"{address}/doc/tree/{LESSON}?token={TOKEN}", started)
            assert b"jupyter-config-data" in page, "the page isn't JupyterLab's"
            lesson = json.loads(_get(f"{address}/api/contents/{LESSON}?token={TOKEN}", started))
            code = [cell for cell in lesson["content"]["cells"] if cell["cell_type"] == "code"]
            assert code and all(cell["metadata"]["trusted"] for cell in code), "the lesson isn't trusted"
            return f"{LESSON} answers, and is trusted"
        except AssertionError as error:
            log.seek(0)
            raise AssertionError(f"{error}: {log.read().decode(errors='replace')}") from None
        finally:
            _end(started)


def _end(started: subprocess.Popen) -> None:
    if WINDOWS:  # where the launcher waits for JupyterLab, which would outlive it
        subprocess.run(["taskkill", "/F", "/T", "/PID", str(started.pid)], check=False, capture_output=True)
    started.terminate()
    started.wait(timeout=60)


def _get(url: str, started: subprocess.Popen) -> bytes:
    end = time.monotonic() + LONGEST
    while time.monotonic() < end and started.poll() is None:
        with contextlib.suppress(OSError), urllib.request.urlopen(url, timeout=30) as answer:
            return answer.read()
        time.sleep(0.2)
    raise AssertionError("the server didn't answer")


def tested(ground: Ground, arguments: list[str]) -> str:
    """Give the second command; return its last line."""
    started = ground.start("test", *arguments, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    said = started.communicate()[0].strip()
    assert started.returncode == 0, said
    return said.rpartition("\n")[2].strip("= ")


def refused(ground: Ground) -> str:
    """Give the first command where no proxy answers; return the sentence in which it ends."""
    ground.environment |= {"HTTPS_PROXY": FAILING_PROXY, "HTTP_PROXY": FAILING_PROXY}
    started = ground.start("open", "--no-browser", stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    said = started.communicate()[1]
    assert started.returncode == 1 and said.count("\n") == 1 and "connect this machine" in said, said
    return said.strip()


def steps(way: str, ground: Ground, arguments: list[str] | None) -> Iterator[tuple[str, object]]:
    """Yield the steps of a way: what each is called, and what does it."""
    if way == "proxy":
        yield "open, with a proxy that fails", lambda: refused(ground)
        return
    yield "open, for the first time", lambda: opened(ground)
    yield "open again", lambda: opened(ground)
    if arguments is not None:
        yield " ".join(["test", *arguments]), lambda: tested(ground, arguments)


WAYS = {"clone": by_git, "archive": by_archive, "proxy": by_archive}


def walk(way: str, python: str, arguments: list[str] | None) -> bool:
    """Go one way on ground of its own, and print a line for each step; say if all went well."""
    well = True
    with tempfile.TemporaryDirectory(prefix="ground-", ignore_cleanup_errors=True) as folder:
        Path(folder).chmod(0o755)
        ground = Ground(Path(folder), python, git=way != "archive")
        WAYS[way](ground)
        ground.close()
        for name, step in steps(way, ground, arguments):
            began = time.monotonic()
            try:
                mark, said = "well", step()
            except AssertionError as error:
                mark, said, well = "FAILED", str(error), False
            print(f"{way:8} {name:32} {time.monotonic() - began:7.1f} s  {mark}: {said}", flush=True)
        if not WINDOWS:
            ground.parent.chmod(0o755)
    return well


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--way", action="append", choices=WAYS, help="one way only; may be given again")
    parser.add_argument("--python", default=shutil.which("python3") or sys.executable, help="the Python to run it with")
    parser.add_argument("--open-only", action="store_true", help="leave out the tests")
    parser.add_argument("arguments", nargs="*", help="for the command test")
    given = parser.parse_args()
    print(f"Python: {given.python}; as {'nobody' if not WINDOWS and os.geteuid() == 0 else 'you'}", flush=True)
    arguments = None if given.open_only else given.arguments
    sys.exit(not all([walk(way, given.python, arguments) for way in given.way or WAYS]))
