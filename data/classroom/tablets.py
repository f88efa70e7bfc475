"""Let tablets use this computer over a local router: one JupyterLab for each, no names.

    .venv/bin/python data/classroom/tablets.py --address 192.168.1.20 --students 6

Each gets its own folder, jobs, port and word. Whoever knows a word can run programs as you: use an
account without private files, on a router of your own. Ctrl+C ends all.
"""

import argparse
import os
import secrets
import shutil
import socket
import subprocess
import sys
import time
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
LETTERS = "abcdefghkmnpqrstuvwxyz"  # none that reads like another


def prepare(folder):
    """Copy the notebooks into a student's folder, once; work that is there stays."""
    folder.mkdir(parents=True, exist_ok=True)
    for notebook in sorted((TOP / "notebooks").glob("*.ipynb")):
        if not (folder / notebook.name).exists():
            shutil.copy(notebook, folder)


def command(address, port, word, folder):
    """Return the command of one server; what the README beside this gives for a single one, and its folder."""
    return [
        sys.executable, "-m", "jupyterlab", "--no-browser", f"--ip={address}", f"--port={port}",
        "--ServerApp.port_retries=0", f"--IdentityProvider.token={word}",
        "--ServerApp.terminals_enabled=False", f"--ServerApp.root_dir={folder}",
        *(["--KernelManager.transport=ipc"] if os.name != "nt" else []),  # no two pick one port
    ]  # fmt: skip


def main(arguments=None):
    """Start the servers, print the addresses, wait for Ctrl+C."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--address", required=True, help="of this computer on the router")
    parser.add_argument("--students", type=int, default=6)
    parser.add_argument("--folder", type=Path, default=Path.home() / "airlab-tablets")
    parser.add_argument("--port", type=int, default=8801, help="of the first one")
    given = parser.parse_args(arguments)
    if not 1 <= given.students <= 40:
        parser.error(f"{given.students} students. This takes 1 to 40; about 250 MB each.")
    ports = range(given.port, given.port + given.students)
    for port in ports:
        with socket.socket() as probe:
            try:
                probe.bind((given.address, port))
            except OSError as error:
                parser.error(f"{given.address}, port {port}: {error.strerror}. Is it this computer's "
                             "address, and is the port free?")  # fmt: skip
    servers = []
    try:
        for seat, port in enumerate(ports, start=1):
            folder = given.folder.resolve() / f"student{seat}"
            prepare(folder)
            word = "".join(secrets.choice(LETTERS) for _ in range(10))
            own = {"AIRLAB_JOBS": str(folder / "jobs"), "OPENBLAS_NUM_THREADS": "1",
                   "JUPYTERLAB_WORKSPACES_DIR": str(folder / ".workspaces")}  # fmt: skip
            with (folder / "server.log").open("w") as log:
                servers.append(subprocess.Popen(
                    command(given.address, port, word, folder),
                    env=os.environ | own, stdout=log, stderr=log, cwd=folder,
                ))  # fmt: skip
            print(
                f"student{seat}: http://{given.address}:{port}/doc/tree/00_start.ipynb?token={word}"
            )
        print("Ctrl+C ends all. The work stays in", given.folder, flush=True)
        while all(server.poll() is None for server in servers):
            time.sleep(1.0)
        return f"A server ended. See server.log in the folders of {given.folder}."
    except KeyboardInterrupt:
        return 0
    finally:
        for server in servers:
            server.terminate()
        for server in servers:
            server.wait()


if __name__ == "__main__":
    sys.exit(main())
