"""A class on one server: student1 to studentN, no names, own home and jobs, idle ones ended.

    AIRLAB_CLASS_PASSWORD=... jupyterhub --config data/classroom/jupyterhub_config.py

Started by root, every student is an account of the machine and cannot read another's files. Started
by anyone else, all run as that person: nothing keeps students apart but good manners.

| variable | what | default |
|---|---|---|
| AIRLAB_CLASS_PASSWORD | the word of the class, 8 characters or more | none: it must be given |
| AIRLAB_STUDENTS | how many | 30 |
| AIRLAB_ADDRESS | where the server listens | 127.0.0.1: this computer only |
| AIRLAB_CLASS | folder of the hub, and of homes when not started by root | ./airlab-class |
| AIRLAB_IDLE | seconds until a kernel without an open page ends; as many later its server | 3600 |
| AIRLAB_MEMORY_MB | memory that one kernel may take | 1000 |
"""

import os
from pathlib import Path

c = get_config()  # noqa: F821 (the hub provides it)

notebooks = Path(__file__).resolve().parents[2] / "notebooks"
place = Path(os.environ.get("AIRLAB_CLASS", "airlab-class")).resolve()
place.mkdir(mode=0o700, parents=True, exist_ok=True)
idle = int(os.environ.get("AIRLAB_IDLE", "3600"))
memory = int(os.environ.get("AIRLAB_MEMORY_MB", "1000"))
word = os.environ.get("AIRLAB_CLASS_PASSWORD", "")
if len(word) < 8:
    raise SystemExit("Set AIRLAB_CLASS_PASSWORD to a word of 8 characters or more.")

c.JupyterHub.bind_url = f"http://{os.environ.get('AIRLAB_ADDRESS', '127.0.0.1')}:8000"
c.JupyterHub.db_url = f"sqlite:///{place / 'hub.sqlite'}"
c.JupyterHub.cookie_secret_file = str(place / "cookie_secret")
c.ConfigurableHTTPProxy.pid_file = str(place / "proxy.pid")

# Who: seats, not people. One word opens them all; nobody is an administrator.
c.JupyterHub.authenticator_class = "shared-password"
c.SharedPasswordAuthenticator.user_password = word
c.Authenticator.allowed_users = {
    f"student{seat}" for seat in range(1, int(os.environ.get("AIRLAB_STUDENTS", "30")) + 1)
}

# Where: own home; the notebooks are copied into it once, jobs stand beside them.
if os.geteuid() != 0:
    c.JupyterHub.spawner_class = "simple"
    c.SimpleLocalProcessSpawner.home_dir_template = str(place / "homes" / "{username}")
c.Spawner.notebook_dir = "~/airlab"
c.Spawner.default_url = "/lab/tree/00_start.ipynb"
c.Spawner.environment = {
    "AIRLAB_JOBS": "~/airlab/jobs",
    "AIRLAB_NOTEBOOKS": str(notebooks),
    "OPENBLAS_NUM_THREADS": "1",
}

# How much: this runs as the student, in the student's home. The limit holds for each process.
c.Spawner.cmd = [
    "sh",
    "-c",
    "umask 077; if [ ! -e airlab ]; then mkdir -p airlab.part"
    ' && cp "$AIRLAB_NOTEBOOKS"/*.ipynb airlab.part/ && mv airlab.part airlab; fi;'
    f' ulimit -d {memory * 1000}; export JUPYTER_RUNTIME_DIR="$HOME/.run"; exec "$@"',
    "class",
    "jupyterhub-singleuser",
]
c.Spawner.args = [
    f"--MappingKernelManager.cull_idle_timeout={idle}",
    f"--MappingKernelManager.cull_interval={max(idle // 4, 1)}",
    f"--ServerApp.shutdown_no_activity_timeout={idle}",
    "--ServerApp.terminals_enabled=False",
    # Servers that start at the same moment pick the same free ports; sockets in the home do not clash.
    "--KernelManager.transport=ipc",
]
c.Spawner.start_timeout = c.Spawner.http_timeout = 180  # a whole class presses Start at once
