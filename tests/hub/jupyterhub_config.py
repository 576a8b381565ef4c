"""A class on one server: what JupyterHub needs to be told. Copy it, and change the places and names to yours.

JupyterHub's own page on its configuration says what each line means, and much more. tests/test_hub.py starts a hub
of ten with this file; DEVELOPERS.md, "A class on one server", says how to get ready for it.
"""

c = get_config()  # noqa: F821 (JupyterHub gives it to this file)

STONEWORK = "/srv/stonework"  # this workbook with its .venv: root's, read by all, written to by none of the class
WORK = "/srv/stonework-work"  # everybody's answers and lockups: the group's, so that one hears of another's wood
GROUP = "stonework"  # the system group of all who take part
INSTRUCTORS = ["instructor"]  # who gets the pages for instructors as well

# Whoever has an account on this machine and is in the group logs in with its password.
c.JupyterHub.authenticator_class = "pam"
c.PAMAuthenticator.allowed_groups = {GROUP}

# Each student's JupyterLab runs under their own account. student.py lays the pages out afresh in their home first.
c.JupyterHub.spawner_class = "jupyterhub.spawner.LocalProcessSpawner"
c.Spawner.cmd = [f"{STONEWORK}/.venv/bin/python", f"{STONEWORK}/tests/hub/student.py"]
c.Spawner.notebook_dir = "~/stonework"
c.Spawner.default_url = "/doc/tree/lessons/00-start-here.ipynb"
c.Spawner.environment = {
    "STONEWORK_WORK": WORK,
    "STONEWORK_TEACHES": lambda spawner: "yes" if spawner.user.name in INSTRUCTORS else "",
}

# A class comes all at once, and on two cores the last of thirty waits for most of a minute. Beyond this limit
# students are turned away with a page that asks them to come again; it is for a course larger than the machine.
c.JupyterHub.concurrent_spawn_limit = 32
c.Spawner.start_timeout = 180
c.Spawner.http_timeout = 180

# A kernel is spoken to through files of its owner's and not through the machine's ports: there any other account can
# listen, and of a class that starts all at once now and then two are given the same port, and one has no kernel.
# What nobody has used for two hours is ended; answers and lockups are kept. First the kernels, then the server.
c.Spawner.args = [
    "--KernelManager.transport=ipc",
    "--MappingKernelManager.cull_idle_timeout=7200",
    "--MappingKernelManager.cull_connected=True",
    "--ServerApp.shutdown_no_activity_timeout=7200",
]

c.ConfigurableHTTPProxy.command = [f"{STONEWORK}/.venv/hub-proxy/node_modules/.bin/configurable-http-proxy"]

# Passwords, and pages that start by themselves, want an encrypted connection: your certificate's two files.
c.JupyterHub.bind_url = "https://:443"
c.JupyterHub.ssl_cert = "/etc/ssl/certs/stonework.pem"
c.JupyterHub.ssl_key = "/etc/ssl/private/stonework.key"
