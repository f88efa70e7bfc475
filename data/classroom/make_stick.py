"""Make a folder that holds the workbook and every wheel it needs, to carry on a stick.

    python data/classroom/make_stick.py FOLDER --for this
    python data/classroom/make_stick.py FOLDER --for windows mac-arm linux --python 3.11 3.12 3.13

Needs the network and pip. What it makes needs neither: see `start.py`, which lies on the stick.
"""

import argparse
import hashlib
import json
import platform
import re
import shutil
import subprocess
import sys
import tempfile
import tomllib
import zipfile
from email.parser import Parser
from pathlib import Path

from pip._vendor.packaging.requirements import Requirement  # pip is needed in any case
from pip._vendor.packaging.utils import canonicalize_name

HERE = Path(__file__).resolve().parent
TOP = HERE.parents[1]
WORKBOOK = ("airlab", "data", "notebooks", "pyproject.toml", "requirements.txt", "README.md")
PRIVATE = ("jobs", ".*", "__pycache__", "*.pyc", "*.egg-info")
STARTERS = ("start.py", "start.sh", "start.cmd")
GLIBC = (28, 27, 26, 24, 17, 12, 5)  # manylinux_2_N, newest first

# Which wheels a kind of computer takes, and what markers of requirements see there.
KINDS = {
    "windows": (("win_amd64",), ("nt", "win32", "Windows", "AMD64")),
    "mac-arm": (("macosx_12_0_arm64",), ("posix", "darwin", "Darwin", "arm64")),
    "mac-intel": (("macosx_11_0_x86_64",), ("posix", "darwin", "Darwin", "x86_64")),
    "linux": (
        (*(f"manylinux_2_{n}_x86_64" for n in GLIBC), "manylinux2014_x86_64"),
        ("posix", "linux", "Linux", "x86_64"),
    ),
    "linux-arm": (
        (*(f"manylinux_2_{n}_aarch64" for n in GLIBC), "manylinux2014_aarch64"),
        ("posix", "linux", "Linux", "aarch64"),
    ),
}


def this_kind():
    """Return the kind of the computer this runs on."""
    arm = platform.machine().lower() in ("arm64", "aarch64")
    named = {"Windows": "windows", "Darwin": "mac", "Linux": "linux"}.get(platform.system(), "")
    kind = {"mac": "mac-arm" if arm else "mac-intel", "linux": "linux-arm" if arm else "linux"}
    return kind.get(named, named)


def surroundings(kind, python):
    """Return what the markers of requirements see on that kind of computer with that Python."""
    os_name, sys_platform, system, machine = KINDS[kind][1]
    return {
        "implementation_name": "cpython", "implementation_version": f"{python}.0",
        "os_name": os_name, "platform_machine": machine, "platform_release": "",
        "platform_system": system, "platform_version": "", "python_full_version": f"{python}.0",
        "platform_python_implementation": "CPython", "python_version": python,
        "sys_platform": sys_platform,
    }  # fmt: skip


def wanted():
    """Return what a computer in class needs: run time, build backend, its editable part, pip."""
    project = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))
    return [
        *project["project"]["dependencies"],
        *project["build-system"]["requires"],
        "editables",
        "pip",
    ]


def missing(wheels, asked, around):
    """Return the requirements that no wheel of a folder meets, looking through all of them.

    pip reads the conditions of a requirement ("only on Windows") for the computer it runs on, not
    for the one the stick is made for. This reads them for that one.

    Parameters
    ----------
    wheels : Path
        Folder of wheels.
    asked : list of str
        What is needed to begin with.
    around : dict
        What conditions see there; `surroundings`.
    """
    needs, found = {}, {}
    for wheel in wheels.glob("*.whl"):
        name, version = wheel.name.split("-")[:2]
        with zipfile.ZipFile(wheel) as packed:
            inside = next(n for n in packed.namelist() if n.endswith(".dist-info/METADATA"))
            about = Parser().parsestr(packed.read(inside).decode("utf-8"))
        name = canonicalize_name(name)
        found.setdefault(name, []).append(version)
        needs[name] = about.get_all("Requires-Dist") or []
    todo, seen, lacking = [(Requirement(line), "") for line in asked], set(), []
    while todo:
        need, extra = todo.pop()
        if need.marker and not need.marker.evaluate({**around, "extra": extra}):
            continue
        name = canonicalize_name(need.name)
        key = name, str(need.specifier), tuple(sorted(need.extras))
        if key in seen:
            continue
        seen.add(key)
        if not any(need.specifier.contains(v, prereleases=True) for v in found.get(name, ())):
            lacking.append(f"{need.name}{need.specifier}")
            continue
        for line in needs[name]:
            todo += [(Requirement(line), one) for one in ("", *need.extras)]
    return sorted(set(lacking))


def fetch(kind, python, folder, pins):
    """Download the wheels for one kind of computer and one Python; return what was taken."""
    asked, around = wanted(), surroundings(kind, python)
    own = {canonicalize_name(Requirement(line).name) for line in asked}
    direct = [line for line in pins if canonicalize_name(line.split("==")[0]) in own]
    # every version as tested; else the packages the workbook asks for as tested, the rest new
    for kept in (pins, direct):
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)
        limits = folder.parent / "limits.txt"
        limits.write_text("\n".join(kept), encoding="utf-8")
        more = []
        for _ in range(6):
            error = _download(asked + more, kind, python, folder, limits)
            more = more if error else sorted({*more, *missing(folder, asked, around)})
            if error or not missing(folder, asked, around):
                break
        if not error:
            return "exactly as tested" if kept is pins else "the main packages as tested"
    raise SystemExit(f"No full set of wheels for {kind}, Python {python}:\n{error}")


def _download(asked, kind, python, folder, limits):
    """Let pip download; return its complaint, empty when all went well."""
    command = [
        sys.executable, "-m", "pip", "download", "--quiet", "--disable-pip-version-check",
        "--only-binary=:all:", "--implementation=cp", f"--python-version={python}",
        *(f"--platform={tag}" for tag in KINDS[kind][0]), f"--constraint={limits}",
        f"--dest={folder}", *asked,
    ]  # fmt: skip
    result = subprocess.run(command, capture_output=True, text=True)
    return result.stderr[-2000:] if result.returncode else ""


def digest(path):
    """Return the SHA-256 of a file."""
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def write_sums(stick):
    """Write `sums.txt`: the sum of every file on the stick, as `sha256sum -c` reads it."""
    listed = sorted(p for p in stick.rglob("*") if p.is_file() and p.name != "sums.txt")
    lines = [f"{digest(path)}  {path.relative_to(stick).as_posix()}\n" for path in listed]
    (stick / "sums.txt").write_text("".join(lines), encoding="utf-8", newline="\n")


def copy_workbook(stick):
    """Copy the workbook without jobs, hidden files and what Python leaves behind."""
    for name in WORKBOOK:
        source, target = TOP / name, stick / "workbook" / name
        if source.is_dir():
            shutil.copytree(source, target, ignore=shutil.ignore_patterns(*PRIVATE))
        else:
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(source, target)
    for name in STARTERS:
        text = (HERE / name).read_text(encoding="utf-8")
        newline = "\r\n" if name.endswith(".cmd") else "\n"
        (stick / name).write_text(text, encoding="utf-8", newline=newline)


def main(arguments=None):
    """Make the stick."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", type=Path, help="a new or empty folder, on the stick or to copy")
    parser.add_argument("--for", dest="kinds", nargs="+", default=["this"], metavar="KIND",
                        choices=["this", *KINDS], help="this, " + ", ".join(KINDS))  # fmt: skip
    parser.add_argument("--python", nargs="+", default=[".".join(platform.python_version_tuple()[:2])],
                        metavar="3.N", help="Python of the computers in class; 3.11 or newer")  # fmt: skip
    given = parser.parse_args(arguments)
    stick = given.folder.resolve()
    if stick.exists() and (not stick.is_dir() or any(stick.iterdir())):
        parser.error(f"{stick} is not empty. Name a new folder; nothing was changed.")
    if stick.is_relative_to(TOP):
        parser.error(f"{stick} lies in the workbook, which is copied. Name a folder outside it.")
    for python in given.python:
        if not re.fullmatch(r"3\.\d+", python) or int(python[2:]) < 11:
            parser.error(f"Python {python}: the workbook runs on 3.11 or newer. Write 3.12, say.")
    kinds = dict.fromkeys(this_kind() if kind == "this" else kind for kind in given.kinds)
    if not set(kinds) <= set(KINDS):
        parser.error(f"No wheels are known for this computer. Name one of {', '.join(KINDS)}.")
    pins = (TOP / ".ci" / "constraints.txt").read_text(encoding="utf-8").splitlines()
    pins = [line for line in pins if "==" in line]
    (stick / "wheels").mkdir(parents=True)
    with tempfile.TemporaryDirectory() as work:
        for kind in kinds:
            for python in given.python:
                taken = fetch(kind, python, Path(work) / "wheels", pins)
                for wheel in (Path(work) / "wheels").iterdir():
                    shutil.move(wheel, stick / "wheels" / wheel.name)
                print(f"{kind}, Python {python}: every wheel is there; {taken}.", flush=True)
    copy_workbook(stick)
    made = {"kinds": list(kinds), "python": given.python}
    (stick / "stick.json").write_text(json.dumps(made) + "\n", encoding="utf-8")
    write_sums(stick)
    size = sum(path.stat().st_size for path in stick.rglob("*") if path.is_file())
    print(f"{stick}: {size / 1e6:.0f} MB. In class: `sh start.sh`, on Windows `start.cmd`.")


if __name__ == "__main__":
    main()
