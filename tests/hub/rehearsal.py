"""A real hub on this machine for made-up students: started, and ended with all that it started."""

from __future__ import annotations

import contextlib
import os
import shutil
import socket
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

import psutil
import requests

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
PROXY = Path(sys.prefix) / "hub-proxy"
NEEDED = ("package.json", "package-lock.json")
LOG = "hub.log"
FIRST_WAIT, LAST_WAIT = 60, 60  # seconds


def missing() -> str:
    """Say what keeps a hub from being started here, or nothing."""
    if os.name == "nt":
        return "JupyterHub runs under Linux and macOS, not under Windows"
    lacking = [name for name in ("node", "npm") if not shutil.which(name)]
    return f"a hub's proxy needs {' and '.join(lacking)} (Debian: apt install nodejs npm)" if lacking else ""


def fetch_proxy() -> None:
    """Let npm put the hub's proxy into .venv, if it isn't there as pinned."""
    pinned = [(HERE / name).read_bytes() for name in NEEDED]
    stamp = PROXY / "fetched"
    if not stamp.is_file() or stamp.read_bytes() != b"".join(pinned):
        PROXY.mkdir(exist_ok=True)
        for name in NEEDED:
            shutil.copyfile(HERE / name, PROXY / name)
        command = ["npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund"]
        done = subprocess.run(command, cwd=PROXY, capture_output=True, text=True)
        assert done.returncode == 0, f"npm couldn't fetch the hub's proxy:\n{done.stdout}\n{done.stderr}"
        stamp.write_bytes(b"".join(pinned))


@contextlib.contextmanager
def hub(place: Path, students: Sequence[str]) -> Iterator[tuple[str, psutil.Process]]:
    """Run a hub in a folder of its own; give its address and its process."""
    assert not missing(), missing()
    with contextlib.ExitStack() as stack:
        probes = [stack.enter_context(socket.socket()) for _ in range(3)]
        for probe in probes:
            probe.bind(("127.0.0.1", 0))
        ports = [probe.getsockname()[1] for probe in probes]
    fetch_proxy()
    told = {"REHEARSAL_STUDENTS": " ".join(students), "REHEARSAL_PORTS": " ".join(map(str, ports))}
    (place / "work").mkdir()
    command = [sys.executable, "-m", "jupyterhub", "-f", str(HERE / "rehearsal_config.py")]
    with (place / LOG).open("wb") as log:
        process = psutil.Popen(command, cwd=place, env={**os.environ, **told}, stdout=log, stderr=log)
    address = f"http://127.0.0.1:{ports[0]}"
    try:
        _wait_for(f"{address}/hub/api", process)
        yield address, process
    except Exception as error:
        error.add_note(f"The end of the hub's log:\n{_end_of(place / LOG)}")
        raise
    finally:
        _end(process)


def _wait_for(url: str, process: psutil.Popen) -> None:
    for _ in range(10 * FIRST_WAIT):
        with contextlib.suppress(requests.RequestException):
            if requests.get(url, timeout=5).ok:
                return
        with contextlib.suppress(psutil.TimeoutExpired):
            process.wait(timeout=0.1)
            break
    raise AssertionError("The hub didn't start.")


def _end_of(log: Path) -> str:
    """Return the last that a hub and its servers said, without the requests that went well."""
    lines = log.read_text(errors="replace").splitlines()
    return "\n".join([line for line in lines if line.startswith(("[W", "[E", "[C", " ", "Traceback"))][-60:])


def _end(process: psutil.Popen) -> None:
    """End the hub, which ends proxy and servers; whatever outlives it is ended by its own number."""
    if not process.is_running():
        return
    started = [process, *process.children(recursive=True)]
    process.terminate()
    _, left = psutil.wait_procs(started, timeout=LAST_WAIT)
    for one in left:
        with contextlib.suppress(psutil.NoSuchProcess):
            one.kill()
    psutil.wait_procs(left, timeout=LAST_WAIT)
