"""Install the workbook from this stick and open it: only Python 3.11 or newer, no network.

    python start.py [--to FOLDER] [--no-start]

It is copied to the folder `airlab` in your home and runs from there. The second time it only opens.
Nothing asks for admin rights. The standard library is all this needs.
"""

import argparse
import hashlib
import json
import os
import platform
import shutil
import subprocess
import sys
import time
from pathlib import Path

STICK = Path(__file__).resolve().parent
MARK = "stick.json"  # what the stick was made for; in a copy it says where that came from


def complaints(stick):
    """Return what is wrong with the files of a stick: missing, changed, or not of it."""
    try:
        lines = (stick / "sums.txt").read_text(encoding="utf-8").splitlines()
        listed = {name: mark for mark, name in (line.split("  ", 1) for line in lines)}
    except (OSError, ValueError):
        return ["sums.txt: missing or damaged. Copy the stick again."]
    wrong = []
    for name, mark in listed.items():
        path = stick / name
        if not path.is_file():
            wrong.append(f"{name}: missing")
        else:
            with path.open("rb") as stream:
                if hashlib.file_digest(stream, "sha256").hexdigest() != mark:
                    wrong.append(f"{name}: not as it was made")
    wheels = {f"wheels/{path.name}" for path in (stick / "wheels").glob("*")}
    return wrong + [f"{name}: not of this stick" for name in sorted(wheels - set(listed))]


def unsuited(stick):
    """Return why this computer cannot use the stick; empty when it can."""
    made = json.loads((stick / MARK).read_text(encoding="utf-8"))
    arm = platform.machine().lower() in ("arm64", "aarch64")
    kind = {
        "Windows": "windows", "Darwin": "mac-arm" if arm else "mac-intel",
        "Linux": "linux-arm" if arm else "linux",
    }.get(platform.system(), platform.system())  # fmt: skip
    python = ".".join(platform.python_version_tuple()[:2])
    if kind in made["kinds"] and python in made["python"]:
        return ""
    return (
        f"This computer is {kind} with Python {python}. The stick was made for "
        f"{', '.join(made['kinds'])} with Python {', '.join(made['python'])}. "
        "Make one for this kind, or start it with another Python."
    )


def inside(folder):
    """Return the Python of the environment in a folder."""
    return folder / ".venv" / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def install(stick, folder):
    """Copy the workbook to a folder and install it there from the wheels alone."""
    if not (folder / MARK).exists():
        part = folder.with_name(f"{folder.name}.part")  # whole or not at all
        shutil.rmtree(part, ignore_errors=True)
        shutil.copytree(stick / "workbook", part)
        shutil.copy(stick / MARK, part)
        for path in (part, *part.rglob("*")):  # a stick may be read-only, the copy is not
            path.chmod(path.stat().st_mode | 0o200)
        if folder.exists():
            folder.rmdir()  # an empty one that somebody made
        part.replace(folder)
    environment = folder / ".venv"
    shutil.rmtree(environment, ignore_errors=True)
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", environment], check=True)
    pip = next((stick / "wheels").glob("pip-*.whl")) / "pip"
    own = {name: value for name, value in os.environ.items() if not name.startswith("PIP_")}
    subprocess.run(
        [inside(folder), pip, "install", "--quiet", "--no-index", "--find-links", stick / "wheels",
         "--no-cache-dir", "--disable-pip-version-check", "--editable", folder],
        env={**own, "PIP_CONFIG_FILE": os.devnull}, check=True,
    )  # fmt: skip
    (environment / "ready").write_text("installed from a stick\n", encoding="utf-8")


def main(arguments=None):
    """Install if need be, then open the workbook."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--to", type=Path, default=Path.home() / "airlab", metavar="FOLDER")
    parser.add_argument("--no-start", action="store_true", help="install only")
    given = parser.parse_args(arguments)
    folder = given.to.expanduser().resolve()
    if sys.version_info < (3, 11):  # noqa: UP036 (whatever Python the PC has starts this)
        return f"This is Python {platform.python_version()}. The workbook runs on 3.11 or newer."
    if not (folder / ".venv" / "ready").exists():
        if folder.exists() and any(folder.iterdir()) and not (folder / MARK).exists():
            return f"{folder} holds something else. Name another folder with --to; nothing changed."
        if wrong := unsuited(STICK):
            return wrong
        print("Looking over the files of the stick.", flush=True)
        if wrong := complaints(STICK):
            return "The stick is not whole:\n" + "\n".join(wrong[:20])
        print(f"Installing into {folder}. This takes a few minutes.", flush=True)
        began = time.monotonic()
        try:
            install(STICK, folder)
        except (OSError, shutil.Error, subprocess.CalledProcessError) as error:
            return f"The installation stopped: {error}\nFree some space (1 GB) and start it again."
        print(f"Installed in {time.monotonic() - began:.0f} s.", flush=True)
    if given.no_start:
        return 0
    first = Path("notebooks") / "00_start.ipynb"
    command = [str(inside(folder)), "-m", "jupyterlab", str(first)]
    os.chdir(folder)
    if os.name != "nt":
        os.execv(command[0], command)  # this process becomes the server: it ends with the window
    return subprocess.run(command).returncode


if __name__ == "__main__":
    sys.exit(main())
