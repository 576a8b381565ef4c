"""The class's configuration with made-up students: for the tests and the benchmark, and never for a class.

Nobody's password is asked for, and all servers run under one account.
"""

import os
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
HERE = Path.cwd()

load_subconfig(str(Path(__file__).with_name("jupyterhub_config.py")))  # noqa: F821
c = get_config()  # noqa: F821


def here(command: list[str]) -> list[str]:
    """Return a command of the class's as it is in this folder and in this environment."""
    places = {"/srv/stonework/.venv": sys.prefix, "/srv/stonework": str(ROOT)}
    for theirs, ours in places.items():
        command = [part.replace(theirs, ours) for part in command]
    return command


c.JupyterHub.authenticator_class = "dummy"
c.Authenticator.allowed_users = set(os.environ["REHEARSAL_STUDENTS"].split())
c.JupyterHub.spawner_class = "simple"
c.SimpleLocalProcessSpawner.home_dir_template = f"{HERE}/homes/{{username}}"
c.Spawner.cmd, c.ConfigurableHTTPProxy.command = here(c.Spawner.cmd), here(c.ConfigurableHTTPProxy.command)
c.Spawner.environment["STONEWORK_WORK"] = str(HERE / "work")
if os.geteuid() == 0:
    c.Spawner.args += ["--allow-root"]

c.JupyterHub.bind_url, c.JupyterHub.hub_bind_url, c.ConfigurableHTTPProxy.api_url = (
    f"http://127.0.0.1:{port}" for port in os.environ["REHEARSAL_PORTS"].split()
)
c.JupyterHub.ssl_cert = c.JupyterHub.ssl_key = ""
