"""Store the notebooks executed: the one way in which a notebook enters the repository.

    python .ci/store_notebooks.py            run each notebook and store its results
    python .ci/store_notebooks.py --check    run each and fail if the stored file would change
    python .ci/store_notebooks.py 01 04      only those whose name starts with 01 or 04

A stored notebook holds sentences and still pictures, no widget state, no timing, fixed cell ids.
Running the script twice changes nothing.
"""

import json
import os
import re
import sys
import tempfile
from pathlib import Path

import nbformat
from nbclient import NotebookClient

FOLDER = Path(__file__).resolve().parents[1] / "notebooks"
WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"
PICTURE = re.compile(r"data:image/png;base64,[A-Za-z0-9+/=]+")
KEEP = ("tags", "jupyter", "deletable", "editable", "nbval", "slideshow")


def tidy(notebook, name):
    """Return the notebook with fixed ids and metadata, without anything that changes by itself."""
    notebook.metadata = nbformat.from_dict(
        {
            "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
            "language_info": {"name": "python"},
        }
    )
    notebook.nbformat, notebook.nbformat_minor = 4, 5
    count = 0
    for index, cell in enumerate(notebook.cells):
        cell.id = f"{name[:2]}-{index:02d}"
        cell.metadata = nbformat.from_dict(
            {key: cell.metadata[key] for key in KEEP if key in cell.metadata}
        )
        if cell.cell_type != "code":
            cell.pop("attachments", None) if not cell.get("attachments") else None
            continue
        count += 1
        cell.execution_count = count
        for output in cell.outputs:
            if "data" in output:
                output.data.pop(WIDGET_VIEW, None)
            if "metadata" in output:
                output.metadata = {}
            if "execution_count" in output:
                output.execution_count = count
        cell.outputs = joined(
            o for o in cell.outputs if o.output_type == "stream" or o.get("data", True)
        )
    return notebook


def joined(outputs):
    """Return outputs with what one stream said in pieces, on a busy machine, said as one."""
    whole = []
    for output in outputs:
        last = whole[-1] if whole else None
        if last and output.output_type == last.output_type == "stream" and output.name == last.name:
            last.text += output.text
        else:
            whole.append(output)
    return whole


def execute(path):
    """Return the notebook run from top to bottom in a fresh kernel with an empty jobs folder."""
    notebook = nbformat.read(path, as_version=4)
    with tempfile.TemporaryDirectory() as jobs:
        os.environ["AIRLAB_JOBS"] = jobs
        client = NotebookClient(notebook, timeout=60, kernel_name="python3",
                                resources={"metadata": {"path": str(FOLDER)}},
                                store_widget_state=False)  # fmt: skip
        client.execute()
    return tidy(notebook, path.name)


def text_of(notebook):
    """Return the file's text: stable key order, one space of indent, a final newline."""
    return json.dumps(notebook, indent=1, sort_keys=True, ensure_ascii=False) + "\n"


def main(arguments):
    check = "--check" in arguments
    wanted = tuple(a for a in arguments if not a.startswith("-"))
    changed = []
    for path in sorted(FOLDER.glob("*.ipynb")):
        if wanted and not path.name.startswith(wanted):
            continue
        before = path.read_text(encoding="utf-8")
        after = text_of(execute(path))
        if PICTURE.sub("PICTURE", before) != PICTURE.sub("PICTURE", after):
            changed.append(path.name)
        if not check:
            path.write_text(after, encoding="utf-8")
        print(path.name, "would change" if check and path.name in changed else "stored")
    return 1 if check and changed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
