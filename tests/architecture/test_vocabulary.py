"""Docstrings against vocabulary: parameters, units and source keys agree everywhere."""

import ast
import importlib
import inspect
import pkgutil
import re
from pathlib import Path

import pytest

import airlab
from airlab.words import columns, gather_sources, gather_terms
from airlab.words.units import UNITS

FLOORS = ("words", "physics", "building", "fan_test", "design", "in_use", "leak_check", "teaching")
UNIT = re.compile(r"\[([^\[\]]+)\]\s*$")
KEY = re.compile(r"^\s*\[([A-Z0-9_-]+)\]", re.MULTILINE)


def _modules(floor):
    try:
        package = importlib.import_module(f"airlab.{floor}")
    except ModuleNotFoundError:
        return []
    names = [name for _, name, _ in pkgutil.walk_packages(package.__path__, f"airlab.{floor}.")]
    return [importlib.import_module(name) for name in names]


ALL_MODULES = [module for floor in FLOORS for module in _modules(floor)]
TERM_FILES = [module for module in ALL_MODULES if module.__name__.endswith(".terms")]
TERMS = gather_terms(*TERM_FILES)
SOURCES = gather_sources(*TERM_FILES)


def _public_functions():
    for module in ALL_MODULES:
        for name in getattr(module, "__all__", ()):
            thing = getattr(module, name)
            if inspect.isfunction(thing) and thing.__module__ == module.__name__:
                yield pytest.param(thing, id=f"{module.__name__.removeprefix('airlab.')}.{name}")


def _sections(doc):
    """Return {section: {name: description}} of a NumPy-style docstring."""
    lines = inspect.cleandoc(doc).splitlines()
    found, section, entry = {}, None, None
    for index, line in enumerate(lines):
        if index + 1 < len(lines) and set(lines[index + 1].strip()) == {"-"} and line.strip():
            section, entry = line.strip(), None
            found[section] = {}
        elif section and line and not line.startswith(" ") and " : " in line:
            entry = line.split(" : ")[0].strip()
            found[section][entry] = ""
        elif section and entry and line.startswith(" "):
            found[section][entry] += " " + line.strip()
    return found


@pytest.mark.parametrize("function", _public_functions())
def test_parameters_in_docstring_agree_with_signature_and_vocabulary(function):
    assert function.__doc__, "no docstring"
    parameters = _sections(function.__doc__).get("Parameters", {})
    if not parameters:
        return
    signature = [name for name in inspect.signature(function).parameters if name != "self"]
    described = [name.strip().lstrip("*") for entry in parameters for name in entry.split(",")]
    assert set(described) == {name.lstrip("*") for name in signature}
    for entry, text in parameters.items():
        unit = UNIT.search(text)
        for name in (part.strip() for part in entry.split(",")):
            if name in TERMS:
                assert unit, f"{name} has no unit in brackets"
                assert unit.group(1) == TERMS[name].unit, f"{name}: {unit.group(1)}"


@pytest.mark.parametrize("function", _public_functions())
def test_source_keys_in_docstrings_are_registered(function):
    doc = inspect.cleandoc(function.__doc__ or "")
    if "References\n----------" not in doc:
        return
    tail = doc.split("References\n----------")[1].split("\n\n")[0]
    keys = KEY.findall(tail)
    assert keys, "a References section without a key"
    assert not set(keys) - set(SOURCES), set(keys) - set(SOURCES)


def test_terms_name_known_units_and_sources():
    assert len(TERMS) > 10
    for term in TERMS.values():
        assert term.unit in UNITS, term
        assert not term.source or term.source in SOURCES, term
        assert term.meaning


def test_every_table_column_with_a_unit_carries_it_in_its_name():
    tables = [
        value
        for module in ALL_MODULES
        for value in vars(module).values()
        if isinstance(value, columns.Table)
    ]
    assert tables
    for table in tables:
        for column in table.columns:
            assert column.meaning, f"{table.name}.{column.name}"
            if column.unit and column.unit != "-":
                assert column.unit in UNITS
                tail = column.unit.replace("/", "_per_").lower()
                tail = re.sub(r"[()^.]", "_", tail).strip("_")
                assert column.name.lower().endswith(tail), f"{table.name}.{column.name}"


def test_sources_of_exercises_are_registered():
    from airlab.teaching.bank import _ALL

    keys = {entry.source for entry in _ALL}
    assert keys
    assert not keys - set(SOURCES), keys - set(SOURCES)


def test_the_package_front_is_a_docstring_and_a_version():
    front = ast.parse(Path(airlab.__file__).read_text(encoding="utf-8")).body
    assert [type(part) for part in front] == [ast.Expr, ast.Assign]
    assert front[1].targets[0].id == "__version__"
