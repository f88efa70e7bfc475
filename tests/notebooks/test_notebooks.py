"""The rules of the notebooks, and a run with the right answers put in."""

import json
import re
from pathlib import Path

import nbformat
import pytest

TOP = Path(__file__).resolve().parents[2]
FOLDER = TOP / "notebooks"
PATHS = sorted(FOLDER.glob("*.ipynb"))
HEADINGS = ("Predict", "Try", "What happened", "Under the lid", "Exercises", "On site", "Sources")
ALLOWED_IMPORTS = re.compile(r"^\s*(?:from|import)\s+(?!airlab\b)", re.MULTILINE)


def _id(path):
    return path.stem


@pytest.fixture(params=PATHS, ids=_id)
def path(request):
    return request.param


@pytest.fixture
def notebook(path):
    return nbformat.read(path, as_version=4)


def _markdown(notebook):
    return [cell.source for cell in notebook.cells if cell.cell_type == "markdown"]


def _code(notebook):
    return [cell for cell in notebook.cells if cell.cell_type == "code"]


def test_there_are_notebooks():
    assert len(PATHS) >= 6


def test_code_cells_are_short(notebook):
    for cell in _code(notebook):
        lines = [line for line in cell.source.splitlines() if line.strip()]
        assert len(lines) <= 8, cell.source


def test_stored_executed_without_widget_state_or_timing(path, notebook):
    raw = json.loads(path.read_text(encoding="utf-8"))
    assert set(raw["metadata"]) == {"kernelspec", "language_info"}
    assert raw["metadata"]["kernelspec"]["name"] == "python3"
    for cell in _code(notebook):
        assert cell.execution_count
        assert "execution" not in cell.metadata
        for output in cell.outputs:
            assert output.output_type != "error"
            assert "widget-view" not in json.dumps(output)
    assert path.stat().st_size < 300_000


def test_cell_ids_are_fixed(path, notebook):
    assert [c.id for c in notebook.cells] == [
        f"{path.name[:2]}-{i:02d}" for i in range(len(notebook.cells))
    ]


def test_one_title_and_headings_in_order(path, notebook):
    text = "\n".join(_markdown(notebook))
    outside_code = re.sub(r"```.*?```", "", text, flags=re.DOTALL)
    levels = [len(m.group(1)) for m in re.finditer(r"^(#+) ", outside_code, re.MULTILINE)]
    assert levels.count(1) == 1 and levels[0] == 1
    assert all(b <= a + 1 for a, b in zip(levels, levels[1:], strict=False))
    if path.name.startswith("00"):
        return
    found = re.findall(r"^## (.+)$", outside_code, re.MULTILINE)
    order = [heading for heading in found if heading in HEADINGS]
    assert order == [heading for heading in HEADINGS if heading in order]
    assert {"Predict", "Try", "On site", "Sources"} <= set(order)


def test_says_run_all_first_and_links_on(path, notebook):
    assert "Run All" in _markdown(notebook)[0]
    assert re.search(r"\]\(\d\d_\w+\.ipynb\)", _markdown(notebook)[-1])


def test_links_between_notebooks_lead_somewhere(notebook):
    for text in _markdown(notebook):
        for target in re.findall(r"\]\((\w+\.ipynb)\)", text):
            assert (FOLDER / target).exists(), target


def test_pictures_have_alternative_text(notebook):
    pieces = _markdown(notebook) + [json.dumps(c.outputs) for c in _code(notebook)]
    for text in pieces:
        assert not re.search(r"!\[\]\(", text)
        for tag in re.findall(r"<img\b[^>]*>", text):
            assert "alt=" in tag and not re.search(r'alt=\\?"\s*\\?"', tag), tag[:80]


def test_length(path, notebook):
    def words(text):
        text = re.sub(r"<details>.*?</details>", "", text, flags=re.DOTALL)
        return len(re.findall(r"[A-Za-z0-9][\w'’-]*", re.sub(r"<[^>]+>|\(\S+\)", " ", text)))

    total = sum(words(text) for text in _markdown(notebook))
    limit = 350 if path.name[:2] in ("01", "02", "03") else 900
    assert total <= limit, total


def test_imports_only_the_package(notebook):
    for cell in _code(notebook):
        assert not ALLOWED_IMPORTS.search(cell.source), cell.source
        assert "import *" not in cell.source


def test_panel_cells_are_guarded_and_hidden(notebook):
    panels = [c for c in _code(notebook) if "panel" in c.metadata.get("tags", [])]
    for cell in panels:
        assert cell.metadata.get("deletable") is False
        assert cell.metadata.get("editable") is False
        assert cell.metadata.get("jupyter", {}).get("source_hidden") is True


def test_unanswered_exercises_are_asked_not_answered(notebook):
    for cell in _code(notebook):
        if "answer" in cell.metadata.get("tags", []):
            assert "..." in cell.source


def test_runs_with_right_answers(path, notebook, tmp_path, monkeypatch):
    """Put the right answers into the tagged cells of a copy and expect every check to say so."""
    from nbclient import NotebookClient

    from airlab.teaching import right_answer

    cells = [c for c in _code(notebook) if "answer" in c.metadata.get("tags", [])]
    if not cells:
        pytest.skip("no exercises")
    keys = []
    for cell in cells:
        key = re.search(r'check\("([^"]+)"', cell.source).group(1)
        keys.append(key)
        cell.source = cell.source.replace("...", repr(right_answer(key)), 1)
    monkeypatch.setenv("AIRLAB_JOBS", str(tmp_path))
    client = NotebookClient(
        notebook, timeout=60, kernel_name="python3",
        resources={"metadata": {"path": str(FOLDER)}}, store_widget_state=False,
    )  # fmt: skip
    client.execute()
    said = "\n".join(
        output["data"]["text/plain"] for c in cells for output in c.outputs if "data" in output
    )
    for key in keys:
        assert f"{key}: right." in said, said
