"""The shape of the package: floors, light import, module length, no stray unit factors."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

import airlab

PACKAGE = Path(airlab.__file__).parent
TOP = PACKAGE.parent
MODULES = sorted(path for path in PACKAGE.rglob("*.py"))


def _name(path):
    return str(path.relative_to(TOP))


def test_import_contract_holds():
    result = subprocess.run(
        [Path(sys.executable).with_name("lint-imports"), "--no-cache"],
        cwd=TOP, capture_output=True, text=True,
    )  # fmt: skip
    assert result.returncode == 0, result.stdout[-3000:]


def test_import_is_light_and_sets_nothing():
    code = (
        "import sys, airlab; "
        "heavy = {'scipy', 'pandas', 'matplotlib', 'ipywidgets', 'numpy'} & set(sys.modules); "
        "print(sorted(heavy))"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"


@pytest.mark.parametrize(
    "floor", ["words", "physics", "building", "design", "in_use", "leak_check"]
)
def test_lower_floors_import_without_heavy_libraries(floor):
    code = (
        f"import sys, airlab.{floor}; "
        "print(sorted({'scipy', 'pandas', 'matplotlib', 'ipywidgets', 'jinja2'} & set(sys.modules)))"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_a_module_holds_one_idea(path):
    lines = path.read_text(encoding="utf-8").count("\n")
    assert lines <= 400, f"{_name(path)} has {lines} lines: it holds two ideas"


STRAY = re.compile(r"(?<![\w.])(3600(\.0)?|3\.6|1e-?4|10_?000\.0|0\.3048|1\.699\d*)(?![\w.])")


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_units_change_in_one_place_only(path):
    if path.name == "units.py":
        pytest.skip("the one place")
    found = [
        f"line {number}: {line.strip()}"
        for number, line in enumerate(_code_lines(path), start=1)
        if STRAY.search(line)
    ]
    assert not found, "\n".join(found)


def _code_lines(path):
    """Source lines with strings and comments blanked, so that prose may name a factor."""
    import io
    import tokenize

    lines = path.read_text(encoding="utf-8").splitlines()
    blank = [list(line) for line in lines]
    source = io.StringIO("\n".join(lines) + "\n")
    for token in tokenize.generate_tokens(source.readline):
        if token.type in (tokenize.STRING, tokenize.COMMENT):
            (row0, col0), (row1, col1) = token.start, token.end
            for row in range(row0, row1 + 1):
                start = col0 if row == row0 else 0
                stop = col1 if row == row1 else len(blank[row - 1])
                for column in range(start, stop):
                    blank[row - 1][column] = " "
    return ["".join(line) for line in blank]


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("__init__.py")), ids=_name)
def test_folder_fronts_say_what_lives_there(path):
    text = path.read_text(encoding="utf-8")
    assert text.startswith('"""'), f"{_name(path)} has no docstring"
    if path.parent != PACKAGE:
        assert "__all__" in text


def test_top_level_holds_what_is_agreed_and_nothing_else():
    tracked = subprocess.run(
        ["git", "ls-files"], cwd=TOP, capture_output=True, text=True
    ).stdout.splitlines()
    if not tracked:
        pytest.skip("not a git checkout")
    top = {name.split("/")[0] for name in tracked}
    assert top <= {
        "README.md", "DEVELOPERS.md", "requirements.txt", "pyproject.toml", "notebooks", "airlab",
        "data", "tests", ".ci", ".gitignore", ".gitattributes",
    }  # fmt: skip


def test_links_of_the_readme_lead_somewhere():
    text = (TOP / "README.md").read_text(encoding="utf-8")
    targets = re.findall(r"\]\(([^)#:]+)\)", text)
    assert targets
    missing = [target for target in targets if not (TOP / target).exists()]
    assert not missing
