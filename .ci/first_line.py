"""Run the README's first line as a newcomer would and wait until the first notebook is served.

The line ends in `jupyter lab notebooks/00_start.ipynb`, which does not return. A private Jupyter
configuration gives it a free port and keeps a browser from opening; the line itself is unchanged.
"""

import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

from readme_line import command

TOP = Path(sys.argv[1]).resolve()
LIMIT = 600.0  # seconds for install and start together


def main():
    home = TOP.parent / "home"
    config = home / "config"
    config.mkdir(parents=True)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    settings = {
        "ServerApp": {"allow_root": True, "open_browser": False, "port": port, "port_retries": 0},
        "IdentityProvider": {"token": "first"},
        "ExtensionApp": {"open_browser": False},
    }
    (config / "jupyter_server_config.json").write_text(json.dumps(settings))
    environment = os.environ | {
        "JUPYTER_CONFIG_DIR": str(config),
        "JUPYTER_DATA_DIR": str(home / "data"),
        "JUPYTER_RUNTIME_DIR": str(home / "runtime"),
    }
    started, answered = time.monotonic(), None
    log = (home / "log.txt").open("w")
    process = subprocess.Popen(
        ["bash", "-c", command("start")],
        cwd=TOP.parent, env=environment, stdout=log, stderr=log, start_new_session=True,
    )  # fmt: skip
    # JupyterLab serves the folder of the notebook it is given
    url = f"http://127.0.0.1:{port}/api/contents/00_start.ipynb?content=0&token=first"
    try:
        while time.monotonic() - started < LIMIT:
            if process.poll() is not None:
                break
            try:
                with urllib.request.urlopen(url, timeout=5) as answer:
                    found = json.load(answer)
                print(
                    f"{found['path']} is served {time.monotonic() - started:.0f} s after the command"
                )
                return 0
            except urllib.error.HTTPError as error:  # it may still be starting
                answered = answered or time.monotonic()
                if time.monotonic() - answered > 60.0:
                    print(f"the server answers {error.code} for the first notebook")
                    return 1
                time.sleep(0.5)
            except (urllib.error.URLError, ConnectionError, TimeoutError):
                time.sleep(0.5)
        print((home / "log.txt").read_text()[-4000:])
        print("the first notebook was not served")
        return 1
    finally:
        if process.poll() is None:
            os.killpg(process.pid, signal.SIGTERM)
            process.wait(timeout=30)


if __name__ == "__main__":
    sys.exit(main())
