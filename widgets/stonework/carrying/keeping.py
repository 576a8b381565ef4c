"""How a bench is kept: each job's lockup in its own file, all else of all jobs in one beside them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

from stonework.carrying.state import State, marked
from stonework.files import alone, free_beside, read_plain, write_whole
from stonework.ledger import save_on
from stonework.lockup import Lockup
from stonework.people import here
from stonework.records import keep_beside, open_lockup, record_path
from stonework.shop import Shop

_WHAT, _VERSION = "stonework bench", 1
_BIGGEST = 1_000_000  # bytes


class Shelf:
    """The folder where the jobs of a bench are kept: that of whoever works here, if none is given."""

    def __init__(self, folder: str | Path | None = None, name: str = "my") -> None:
        self._folder = Path(here().folder if folder is None else folder)
        self.path = self._folder / f"{name}.bench.json"
        self._known: dict[str, str] = {}  # the mark of each job's lockup as this bench last read or wrote it

    def open(self, jobs: Mapping[str, object]) -> tuple[str, dict[str, State], str]:
        """Return the job that was last at hand, every job's state, and what is to be said of what couldn't be read."""
        record, said = self._read()
        kept = record.get("jobs")
        states = {}
        for name in jobs:
            lockup, wrong = self.lockup_of(name)
            said = f"{said} {wrong}".strip()
            states[name] = State.from_dict(kept.get(name) if isinstance(kept, dict) else None, lockup)
        now = record.get("now")
        return (now if isinstance(now, str) and now in states else next(iter(states))), states, said

    def lockup_of(self, name: str) -> tuple[Lockup | None, str]:
        """Return a job's lockup as it lies in its file, and why it can't be read."""
        if not record_path(name, self._folder).is_file():
            self._known[name] = ""
            return None, ""
        try:
            lockup = open_lockup(name, self._folder)
        except ValueError as error:
            return None, str(error)
        self._known[name] = marked(lockup)
        return lockup, ""

    def changed(self, name: str) -> Lockup | None:
        """Return a job's lockup if another panel has saved it since this bench read or wrote it."""
        known = self._known.get(name, "")
        lockup, _ = self.lockup_of(name)
        self._known[name], now = known, marked(lockup)
        return lockup if now not in ("", known) else None

    def keep(self, now: str, states: Mapping[str, State], shop: Shop) -> str:
        """Write the job at hand; say why it can't be, or what another page has written meanwhile, or nothing.

        The other jobs stay as they are in the file: another page may be at one of them.
        """
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            with alone(self._folder.parent), alone(self._folder):
                said = self._keep_lockup(now, states[now].lockup, shop)
                before, aside = self._read()
                said, kept = f"{said} {aside}".strip(), before.get("jobs")
                jobs = dict(kept) if isinstance(kept, dict) else {}
                jobs[now] = states[now].to_dict()
                record = {"what": _WHAT, "version": _VERSION, "now": now, "jobs": jobs}
                write_whole(self.path, json.dumps(record, ensure_ascii=False, indent=1))
        except OSError as error:
            return f"The bench can't be saved as {self.path.name}: {error.strerror}."
        except ValueError as error:
            return str(error)
        return said

    def _keep_lockup(self, now: str, lockup: Lockup | None, shop: Shop) -> str:
        if marked(lockup) == self._known.get(now, ""):
            return ""
        said = ""
        if self.changed(now) not in (None, lockup):
            said = f"Another page saved “{now}” meanwhile: that one is kept as {keep_beside(now, self._folder).name}."
        if lockup is None:
            record_path(now, self._folder).unlink(missing_ok=True)
        else:
            said = f"{said} {save_on(lockup, now, shop, self._folder)[1]}".strip()
        self._known[now] = marked(lockup)
        return said

    def _read(self) -> tuple[dict[str, object], str]:
        if not self.path.exists():
            return {}, ""
        try:
            record = json.loads(read_plain(self.path, _BIGGEST).decode("utf-8"))
            if not isinstance(record, dict) or record.get("what") != _WHAT or record.get("version") != _VERSION:
                raise ValueError
        except (OSError, ValueError, RecursionError):
            return {}, self._put_aside()
        return record, ""

    def _put_aside(self) -> str:
        """Make room for a file that can be read, and say where the other lies."""
        aside = free_beside(self.path.with_suffix(".unread.json"))
        if not self.path.is_file():
            return f"{self.path.name} couldn't be read: it isn't a plain file."
        try:
            self.path.rename(aside)
        except OSError as error:
            return f"{self.path.name} couldn't be read, and can't be put aside: {error.strerror}."
        return f"{self.path.name} couldn't be read, and was put aside as {aside.name}; the lockups are all there."
