"""A made-up student at a hub: logs in as a browser does, waits for their server, and works in a kernel there."""

from __future__ import annotations

import json
import uuid

import requests
from websocket import WebSocket, create_connection

PATIENCE = 180  # seconds for any one thing


class Visitor:
    """One student: their session with the hub, their own token, and a page's kernel."""

    def __init__(self, address: str, name: str) -> None:
        self.address, self.name = address, name
        self.server = f"{address}/user/{name}"
        self.browser = requests.Session()
        self.token = ""
        self._kernel: WebSocket | None = None

    def come_in(self) -> None:
        """Log in at the hub's page, which starts a server, and wait until it runs."""
        page = f"{self.address}/hub/login"
        self.browser.get(page, timeout=PATIENCE).raise_for_status()
        form = {"username": self.name, "password": "", "_xsrf": self._ticket()}
        self.browser.post(page, data=form, timeout=PATIENCE).raise_for_status()
        mine = f"{self.address}/hub/api/users/{self.name}"
        asked = {"X-XSRFToken": self._ticket(), "Referer": page}
        with self.browser.get(f"{mine}/server/progress", headers=asked, stream=True, timeout=PATIENCE) as told:
            told.raise_for_status()
            steps = [json.loads(line.removeprefix(b"data:")) for line in told.iter_lines() if line.startswith(b"data:")]
        assert steps and steps[-1].get("ready"), f"{self.name} has no server: {steps[-1:]}"
        given = self.browser.post(f"{mine}/tokens", headers=asked, json={"note": "lesson"}, timeout=PATIENCE)
        given.raise_for_status()
        self.token = given.json()["token"]

    def ask(self, path: str, /, **posted: object) -> requests.Response:
        """Ask a server for something through the hub's proxy, with this student's own token."""
        how = "POST" if posted else "GET"
        rights = {"Authorization": f"token {self.token}"}
        return requests.request(how, f"{self.address}{path}", headers=rights, json=posted or None, timeout=PATIENCE)

    def open(self, page: str) -> list[str]:
        """Open a page with a kernel of its own; return its code, cell by cell."""
        contents = self.ask(f"/user/{self.name}/api/contents/{page}")
        contents.raise_for_status()
        kernel = {"name": "python3"}
        session = self.ask(f"/user/{self.name}/api/sessions", path=page, type="notebook", name="", kernel=kernel)
        session.raise_for_status()
        channels = f"{self.server}/api/kernels/{session.json()['kernel']['id']}/channels"
        rights = [f"Authorization: token {self.token}"]
        self._kernel = create_connection(channels.replace("http", "ws", 1), header=rights, timeout=PATIENCE)
        return [cell["source"] for cell in contents.json()["content"]["cells"] if cell["cell_type"] == "code"]

    def run(self, code: str) -> str:
        """Run code in the page's kernel and return what it printed or came to; an error is ours."""
        header = {"msg_id": uuid.uuid4().hex, "msg_type": "execute_request", "version": "5.3", "username": self.name}
        content = {"code": code, "silent": False, "store_history": True, "allow_stdin": False}
        message = {"header": {**header, "session": "visitor"}, "parent_header": {}, "metadata": {}, "content": content}
        self._kernel.send(json.dumps({**message, "channel": "shell"}))
        said = ""
        while True:
            heard = json.loads(self._kernel.recv())
            if heard["parent_header"].get("msg_id") != header["msg_id"]:
                continue
            kind, content = heard["msg_type"], heard["content"]
            assert kind != "error", f"{self.name}: {content['ename']}: {content['evalue']}\nin: {code}"
            if kind == "stream":
                said += content["text"]
            elif kind in ("execute_result", "display_data"):
                said += content["data"].get("text/plain", "")
            elif kind == "status" and content["execution_state"] == "idle":
                return said

    def leave(self) -> None:
        """Close what this student has open; the hub ends their server."""
        if self._kernel:
            self._kernel.close()
        self.browser.close()

    def _ticket(self) -> str:
        return next(
            cookie.value for cookie in self.browser.cookies if cookie.name == "_xsrf" and cookie.path == "/hub/"
        )
