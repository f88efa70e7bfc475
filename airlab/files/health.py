"""Is the workbook well? What it stands on, whether it finds its data and may keep a job."""

import re
import sys
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, requires, version
from uuid import uuid4

from airlab.files.places import data_folder, jobs_folder
from airlab.words import InputError

__all__ = ["Finding", "Health", "health"]

_AGAIN = "Run the first command of the README again."


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing looked at: what, what was found, whether it is well, what to do if not."""

    what: str
    found: str
    well: bool
    todo: str = ""


@dataclass(frozen=True, slots=True)
class Health:
    """Everything looked at on the kernel's side."""

    findings: tuple[Finding, ...]

    @property
    def well(self):
        """Whether nothing has to be done."""
        return all(finding.well for finding in self.findings)

    def sentence(self, units="metric"):
        """Return the state in words; versions are left out, so that it reads alike anywhere."""
        if self.well:
            return (
                "The kernel is well: it has what the workbook stands on, finds the demo house and "
                "may keep your jobs."
            )
        return " ".join(
            f"{one.what}: {one.found}. {one.todo}" for one in self.findings if not one.well
        )


def health():
    """Return the state of the environment this kernel runs in.

    Returns
    -------
    Health
        Language, every package the workbook asks for, data, folder of the jobs.
    """
    found = [Finding("Python", ".".join(map(str, sys.version_info[:3])), True)]
    found += [_package(line) for line in requires("airlab") or () if "extra ==" not in line]
    return Health((*found, _data(), _jobs()))


def _package(line):
    """Look at one package the workbook asks for, given as a line such as 'numpy<3,>=2.0'."""
    name = re.match(r"[\w.-]+", line)[0]
    try:
        have = version(name)
    except PackageNotFoundError:
        return Finding(name, "missing", False, _AGAIN)
    rules = re.findall(r"(>=|<)\s*([\d.]+)", line)
    if all((_number(have) >= _number(bound)) is (sign == ">=") for sign, bound in rules):
        return Finding(name, have, True)
    wanted = ", ".join(sign + bound for sign, bound in rules)
    return Finding(name, f"{have}, not {wanted}", False, _AGAIN)


def _number(written):
    """Return a version as numbers that compare: '4.0.0rc1' is (4,)."""
    parts = [int(re.match(r"\d*", part)[0] or 0) for part in written.split(".")]
    while parts and parts[-1] == 0:
        parts.pop()
    return tuple(parts)


def _data():
    try:
        there = (data_folder() / "demo_job" / "job.json").exists()
    except InputError as error:
        return Finding("Demo house", "not found", False, str(error))
    return Finding("Demo house", "found" if there else "not found", there, "" if there else _AGAIN)


def _jobs():
    """Try the folder of the jobs, or where it will be made, with a file that goes again."""
    folder = jobs_folder()
    while not folder.exists():
        folder = folder.parent
    trial = folder / f".trial-{uuid4().hex[:8]}"
    try:
        trial.write_bytes(b"")
        trial.unlink()
    except OSError as error:
        return Finding(
            "Your jobs", f"may not be written ({error.strerror})", False,
            "Choose another folder with AIRLAB_JOBS, then restart the kernel.",
        )  # fmt: skip
    return Finding("Your jobs", "may be written", True)
