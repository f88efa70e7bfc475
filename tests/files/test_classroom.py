"""A stick for a class, tablets, a class server: what is on it, what is refused, who sees what.

Conditions of requirements: PEP 508. Names of wheels: the binary distribution format of packages.
The trial itself (new user, no network; a hub with students) needs a machine of its own and is
described in DEVELOPERS.md.
"""

import importlib.util
import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path
from types import SimpleNamespace

import pytest
from traitlets.config import Config

CLASSROOM = Path(__file__).resolve().parents[2] / "data" / "classroom"
TOP = CLASSROOM.parents[1]
linux_only = pytest.mark.skipif(sys.platform != "linux", reason="a tool or a limit of Linux")


def load(name):
    """Load a script of the folder as a module."""
    spec = importlib.util.spec_from_file_location(name, CLASSROOM / f"{name}.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


stick, start, tablets = load("make_stick"), load("start"), load("tablets")


def wheel(folder, name, version="1.0", needs=()):
    """Write a wheel that holds nothing but what it needs."""
    about = [f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}"]
    about += [f"Requires-Dist: {need}" for need in needs]
    with zipfile.ZipFile(folder / f"{name}-{version}-py3-none-any.whl", "w") as packed:
        packed.writestr(f"{name}-{version}.dist-info/METADATA", "\n".join(about) + "\n\n")


@pytest.fixture
def small(tmp_path):
    """A stick with two wheels and a workbook of one file, made for this computer."""
    folder = tmp_path / "stick"
    (folder / "wheels").mkdir(parents=True)
    (folder / "workbook" / "airlab").mkdir(parents=True)
    (folder / "workbook" / "airlab" / "__init__.py").write_text("")
    wheel(folder / "wheels", "one", needs=["two>=1"])
    wheel(folder / "wheels", "two")
    made = {"kinds": [stick.this_kind()], "python": ["{}.{}".format(*sys.version_info)]}
    (folder / "stick.json").write_text(json.dumps(made))
    stick.write_sums(folder)
    return folder


# the wheels ---------------------------------------------------------------------------------


def test_conditions_are_read_for_the_computers_in_class(tmp_path):
    wheel(tmp_path, "one", needs=[
        'on-windows>=2; os_name == "nt"', 'on-mac; sys_platform == "darwin"',
        'old-python; python_version < "3.12"', 'only-if-asked; extra == "more"',
    ])  # fmt: skip
    for kind, python, lacking in (
        ("windows", "3.12", ["on-windows>=2"]),
        ("mac-arm", "3.12", ["on-mac"]),
        ("linux", "3.11", ["old-python"]),
        ("linux", "3.13", []),
    ):
        assert stick.missing(tmp_path, ["one"], stick.surroundings(kind, python)) == lacking
    around = stick.surroundings("linux", "3.13")
    assert stick.missing(tmp_path, ["one[more]"], around) == ["only-if-asked"]


def test_a_wheel_too_old_or_a_need_of_a_need_is_missed(tmp_path):
    around = stick.surroundings("windows", "3.12")
    wheel(tmp_path, "one", needs=["Two_Words>=2"])
    wheel(tmp_path, "two_words", "1.9")
    assert stick.missing(tmp_path, ["one"], around) == ["Two_Words>=2"]
    wheel(tmp_path, "two_words", "2.0", needs=["three"])
    assert stick.missing(tmp_path, ["one"], around) == ["three"]
    wheel(tmp_path, "three", needs=["one"])  # a circle ends
    assert stick.missing(tmp_path, ["one"], around) == []


def test_what_a_class_needs_is_what_the_package_says(tmp_path):
    asked = " ".join(stick.wanted())
    for name in ("jupyterlab", "ipywidgets", "numpy", "scipy", "matplotlib", "hatchling", "pip"):
        assert name in asked
    assert "pytest" not in asked
    assert "jupyterhub" not in (TOP / "requirements.txt").read_text().lower()


# the copy -----------------------------------------------------------------------------------


def test_no_job_goes_on_the_stick(tmp_path, monkeypatch):
    top = tmp_path / "top"
    for name in ("airlab/words.py", "data/demo_job/job.json", "notebooks/00_start.ipynb",
                 "notebooks/jobs/private/job.json", "notebooks/.ipynb_checkpoints/x.ipynb",
                 "airlab/__pycache__/x.pyc", "pyproject.toml", "requirements.txt", "README.md",
                 ".venv/secret"):  # fmt: skip
        (top / name).parent.mkdir(parents=True, exist_ok=True)
        (top / name).write_text("x")
    monkeypatch.setattr(stick, "TOP", top)
    stick.copy_workbook(tmp_path / "stick")
    copied = {p.relative_to(tmp_path / "stick").as_posix() for p in (tmp_path / "stick").rglob("*")}
    files = {name for name in copied if (tmp_path / "stick" / name).is_file()}
    assert files == {
        "workbook/airlab/words.py", "workbook/data/demo_job/job.json", "workbook/README.md",
        "workbook/notebooks/00_start.ipynb", "workbook/pyproject.toml",
        "workbook/requirements.txt", "start.py", "start.sh", "start.cmd",
    }  # fmt: skip
    assert b"\r\n" in (tmp_path / "stick" / "start.cmd").read_bytes()
    assert b"\r" not in (tmp_path / "stick" / "start.sh").read_bytes()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["{full}"], "is not empty"),
        (["{top}/data/stick"], "Name a folder outside it"),
        (["{new}", "--python", "3.10"], "3.11 or newer"),
        (["{new}", "--python", "twelve"], "Write 3.12"),
        (["{new}", "--for", "toaster"], "mac-arm"),
    ],
)
def test_a_stick_that_cannot_be_made_says_why(tmp_path, capsys, arguments, words):
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "mine.txt").write_text("mine")
    names = {"full": tmp_path / "full", "new": tmp_path / "new", "top": TOP}
    with pytest.raises(SystemExit) as stop:
        stick.main([text.format(**names) for text in arguments])
    assert stop.value.code == 2
    assert words in capsys.readouterr().err
    assert not (tmp_path / "new").exists()
    assert [p.name for p in (tmp_path / "full").iterdir()] == ["mine.txt"]


# the sums -----------------------------------------------------------------------------------


@linux_only
def test_sums_are_those_the_system_reads(small):
    checked = subprocess.run(["sha256sum", "-c", "--quiet", "sums.txt"], cwd=small)
    assert checked.returncode == 0
    assert start.complaints(small) == []


def test_a_changed_a_lost_and_a_foreign_file_are_named(small):
    path = small / "wheels" / "one-1.0-py3-none-any.whl"
    data = bytearray(path.read_bytes())
    data[-1] ^= 1  # one bit
    path.write_bytes(data)
    (small / "workbook" / "airlab" / "__init__.py").unlink()
    wheel(small / "wheels", "one", "9.9")  # the installer would prefer it
    assert start.complaints(small) == [
        "wheels/one-1.0-py3-none-any.whl: not as it was made",
        "workbook/airlab/__init__.py: missing",
        "wheels/one-9.9-py3-none-any.whl: not of this stick",
    ]
    (small / "sums.txt").unlink()
    assert start.complaints(small) == ["sums.txt: missing or damaged. Copy the stick again."]


# the start ----------------------------------------------------------------------------------


@pytest.fixture
def begin(small, monkeypatch):
    """Return a function that starts from the small stick; pip and venv only write down calls."""
    monkeypatch.setattr(start, "STICK", small)
    wheel(small / "wheels", "pip")
    stick.write_sums(small)
    calls = []

    def run(command, **given):
        calls.append(([str(part) for part in command], given))
        if "venv" in calls[-1][0]:
            Path(command[-1]).mkdir()
        return SimpleNamespace(returncode=0)

    monkeypatch.setattr(start, "subprocess", SimpleNamespace(
        run=run, CalledProcessError=subprocess.CalledProcessError,
    ))  # fmt: skip
    return lambda folder: (start.main(["--to", str(folder), "--no-start"]), calls)


def test_it_installs_from_the_wheels_alone(small, begin, tmp_path, monkeypatch):
    monkeypatch.setenv("PIP_INDEX_URL", "elsewhere")
    folder = tmp_path / "home" / "airlab"
    folder.parent.mkdir()
    said, calls = begin(folder)
    assert said == 0
    (made, _), (installed, given) = calls
    assert made[1:4] == ["-m", "venv", "--without-pip"]
    assert "--no-index" in installed
    assert installed[installed.index("--find-links") + 1] == str(small / "wheels")
    assert "PIP_INDEX_URL" not in given["env"] and given["env"]["PIP_CONFIG_FILE"] == os.devnull
    assert (folder / "airlab" / "__init__.py").exists()


def test_work_that_is_there_stays(begin, tmp_path):
    folder = tmp_path / "airlab"
    begin(folder)
    (folder / "airlab" / "__init__.py").write_text("# mine")
    said, calls = begin(folder)
    assert said == 0 and len(calls) == 2, "the second time nothing is installed"
    (folder / ".venv" / "ready").unlink()  # as if the power had gone
    begin(folder)
    assert len(calls) == 4
    assert (folder / "airlab" / "__init__.py").read_text() == "# mine"


def test_a_folder_of_something_else_is_left_alone(begin, tmp_path):
    folder = tmp_path / "airlab"
    folder.mkdir()
    (folder / "thesis.txt").write_text("mine")
    said, calls = begin(folder)
    assert "holds something else" in said and not calls
    assert [path.name for path in folder.iterdir()] == ["thesis.txt"]


def test_a_damaged_or_unsuited_stick_installs_nothing(small, begin, tmp_path):
    (small / "workbook" / "airlab" / "__init__.py").write_text("changed")
    said, calls = begin(tmp_path / "airlab")
    assert "workbook/airlab/__init__.py: not as it was made" in said and not calls
    (small / "stick.json").write_text(json.dumps({"kinds": ["toaster"], "python": ["3.99"]}))
    said, calls = begin(tmp_path / "airlab")
    assert "made for toaster with Python 3.99" in said and not calls
    assert not (tmp_path / "airlab").exists()


# tablets and the server ---------------------------------------------------------------------


def test_a_tablet_gets_a_word_and_no_terminal(tmp_path):
    line = tablets.command("192.0.2.7", 8801, "abcdefghkm", tmp_path)
    assert "--ip=192.0.2.7" in line and "--IdentityProvider.token=abcdefghkm" in line
    assert "--ServerApp.terminals_enabled=False" in line
    tablets.prepare(tmp_path / "student1")
    first = tmp_path / "student1" / "00_start.ipynb"
    first.write_text("mine")
    tablets.prepare(tmp_path / "student1")
    assert first.read_text() == "mine"
    assert (tmp_path / "student1" / "01_balloon.ipynb").exists()


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (["192.0.2.7"], "Is it this computer's address"),
        (["127.0.0.1", "--students", "99"], "1 to 40"),
    ],
)
def test_an_address_of_another_computer_is_refused(tmp_path, capsys, given, words):
    with pytest.raises(SystemExit):
        tablets.main(["--folder", str(tmp_path / "t"), "--address", *given])
    assert words in capsys.readouterr().err
    assert not (tmp_path / "t").exists()


def hub(monkeypatch, place, **variables):
    """Return what the hub's configuration sets under these variables."""
    for name in ("PASSWORD", "STUDENTS", "ADDRESS", "IDLE", "MEMORY_MB"):
        monkeypatch.delenv(f"AIRLAB_CLASS_{name}", raising=False)
    monkeypatch.setenv("AIRLAB_CLASS", str(place))
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    path = CLASSROOM / "jupyterhub_config.py"
    c = Config()
    exec(compile(path.read_text(), path, "exec"), {"get_config": lambda: c, "__file__": str(path)})
    return c


def test_the_class_is_let_in_and_nobody_else(tmp_path, monkeypatch):
    c = hub(monkeypatch, tmp_path / "hub", AIRLAB_CLASS_PASSWORD="long enough", AIRLAB_STUDENTS="3")
    assert c.Authenticator.allowed_users == {"student1", "student2", "student3"}
    assert "allow_all" not in c.Authenticator and "admin_users" not in c.Authenticator
    assert c.JupyterHub.bind_url == "http://127.0.0.1:8000", "the network only when it is named"
    assert (tmp_path / "hub").stat().st_mode & 0o077 == 0
    with pytest.raises(SystemExit, match="8 characters"):
        hub(monkeypatch, tmp_path / "hub", AIRLAB_CLASS_PASSWORD="short")


@linux_only
def test_a_students_server_gets_own_notebooks_and_a_limit(tmp_path, monkeypatch):
    c = hub(monkeypatch, tmp_path / "hub", AIRLAB_CLASS_PASSWORD="long enough",
            AIRLAB_MEMORY_MB="300")  # fmt: skip
    home = tmp_path / "home"
    home.mkdir()
    own = {"PATH": os.environ["PATH"], **c.Spawner.environment}
    greedy = "print(len(bytearray(400_000_000)))"

    def run(code):
        command = [*c.Spawner.cmd[:-1], sys.executable, "-c", code]
        return subprocess.run(command, cwd=home, env=own, capture_output=True, text=True)

    assert run("print(1)").stdout == "1\n"
    assert (home / "airlab" / "01_balloon.ipynb").exists()
    assert not (home / "airlab" / "jobs").exists()
    assert (home / "airlab").stat().st_mode & 0o077 == 0
    (home / "airlab" / "01_balloon.ipynb").write_text("mine")
    assert "MemoryError" in run(greedy).stderr
    assert (home / "airlab" / "01_balloon.ipynb").read_text() == "mine"
