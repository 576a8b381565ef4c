"""Who works at this page: one name, given once, remembered for this seat and followed by all that shows it."""

from __future__ import annotations

import asyncio
import contextlib
import getpass
import json
import os
import re
import socket
from collections.abc import Callable
from pathlib import Path

from stonework.files import read_plain, write_whole
from stonework.people.before import move_in
from stonework.people.folders import People, work_folder
from stonework.people.names import near, read_name

HUB = "JUPYTERHUB_USER"
"""The environment variable by which a hub tells whose server this is."""

_SEATS = ".seats"
_LOOK = 2.0  # seconds after which a name given in another lesson is heard of here


class Here:
    """Whoever works at this page: a name, or none yet, and the folder where their work is kept.

    ``said`` is what there is to say of folders and files, in sentences.
    """

    def __init__(self, people: People) -> None:
        self.people = people
        self.said = ""
        self.asked = ""  # a name that was typed, and may be meant for another
        self._seat = _seat()
        self._followers: list[Callable[[], None]] = []
        self._watching = False
        self.name, self.folder = "", people.work / f"no name yet, {self._seat}"
        self._take(self._remembered())
        self.said = " ".join(filter(None, (self.said, move_in(people, self.folder))))

    def __repr__(self) -> str:
        return f"<here: {self.name or 'no name yet'}>"

    def __str__(self) -> str:
        where = f"{self.folder.parent.name}/{self.folder.name}"
        kept = (
            f"{self.name}: your work is kept in {where}." if self.name else "Your work is kept and waits for your name."
        )
        return f"{self.said} {kept}".strip()

    def ready(self) -> Path:
        """Return the folder, made if it wasn't there yet; ``OSError`` if it can't be."""
        self.folder.mkdir(parents=True, exist_ok=True)
        return self.folder

    def meant(self, text: str) -> list[str]:
        """Return the known names that a name not known yet may be meant for, nearest first.

        Raises ``ValueError`` with a sentence for what can't be a name.
        """
        name, known = read_name(text), self.people.folders()
        found = [] if name in known else near(name, known)
        self.asked = name if found else ""
        return found

    def turn_to(self, text: str) -> None:
        """Become the person of a name, here and in every page of this seat; someone new gets a folder.

        What was done without a name becomes the work of someone new. Raises ``ValueError`` with a sentence, and
        changes nothing, for what can't be a name or where there can't be a folder.
        """
        name = read_name(text)
        nameless = None if self.name else self.folder
        known = name in self.people.folders()
        try:
            folder = self.people.begin(name, nameless)
        except OSError as error:
            raise ValueError(f"There can't be a folder for {name}: {error.strerror}.") from error
        self.said = "" if known else f"Good to have you here, {name.rstrip('.')}."
        if known and nameless is not None and nameless.is_dir():
            self.said = f"What was done here without a name stays in {nameless.name}."
        self._remember(name)
        self._become(name, folder)

    def follow(self, follower: Callable[[], None]) -> None:
        """Call this whenever somebody else works here."""
        self._followers.append(follower)
        if not self._watching:
            with contextlib.suppress(RuntimeError):  # no kernel: there is no other page
                asyncio.get_running_loop().call_later(_LOOK, self._watch)
                self._watching = True

    def look(self) -> None:
        """Follow a name that was given in another lesson at this seat."""
        name = self._remembered()
        if name and name != self.name:
            self.said = ""
            self._take(name)

    def _watch(self) -> None:
        self.look()
        asyncio.get_running_loop().call_later(_LOOK, self._watch)

    def _take(self, name: str) -> None:
        """Become who is remembered, if they have a folder or can get one."""
        if not name:
            return
        try:
            folder = self.people.begin(name)
        except (OSError, ValueError):
            self.said = f"The folder of {name} can't be opened."
        else:
            self._become(name, folder)

    def _become(self, name: str, folder: Path) -> None:
        self.name, self.folder, self.asked = name, folder, ""
        self._tell()

    def _tell(self) -> None:
        for follow in self._followers:
            follow()

    @property
    def _note(self) -> Path:
        return self.people.work / _SEATS / f"{self._seat}.json"

    def _remembered(self) -> str:
        """Return the name that was last given at this seat, or else the hub's; nothing if there is none."""
        with contextlib.suppress(OSError, ValueError, KeyError, TypeError, RecursionError):
            if self._note.is_file():
                return read_name(json.loads(read_plain(self._note, 10_000).decode("utf-8"))["name"])
        with contextlib.suppress(ValueError):
            return read_name(re.sub(r"[^\w.-]|_", " ", os.environ.get(HUB, "")))  # no two accounts are one
        return ""

    def _remember(self, name: str) -> None:
        try:
            self._note.parent.mkdir(parents=True, exist_ok=True)
            write_whole(self._note, json.dumps({"name": name}, ensure_ascii=False))
        except OSError as error:
            self.said = f"{self.said} The name can't be remembered for the next time: {error.strerror}.".strip()


def _seat() -> str:
    """Return a name for this seat: the hub's user, or the machine and who is logged in there."""
    said = os.environ.get(HUB)
    if not said:
        try:
            user = getpass.getuser()
        except (KeyError, OSError, ImportError):  # no such account, as in some containers
            user = "someone"
        said = f"{user} at {socket.gethostname().partition('.')[0]}"
    return re.sub(r"[^\w -]+", "-", said)[:60].strip() or "one seat"


_HERE: dict[Path, Here] = {}


def here() -> Here:
    """Return who works at this page; one for all panels and lessons of a kernel."""
    work = Path(os.path.realpath(work_folder()))
    if work not in _HERE:
        _HERE[work] = Here(People(work))
    return _HERE[work]
