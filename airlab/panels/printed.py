"""Where does a printed page stand, and how is it opened from the notebook?"""

import os
from html import escape
from pathlib import Path

from airlab.files import jobs_folder

__all__ = ["printed_link"]

# Turns the way from this notebook's folder to the file into an address of the lab's server; where
# the file lies outside what the server shows, the link stays without an address.
_ADDRESS = """
const link = this.nextElementSibling, config = document.getElementById('jupyter-config-data');
const base = config ? JSON.parse(config.textContent).baseUrl : '/';
const path = decodeURI(location.pathname).slice(base.length)
  .match(/^(?:(?:lab|doc)(?:\\/workspaces\\/[^/]+)?\\/tree|notebooks)\\/(.*)$/);
const parts = path ? path[1].split('/').slice(0, -1) : [];
let inside = Boolean(path);
for (const part of link.dataset.to.split('/')) {
  if (part === '..') inside = parts.length > 0 && inside && Boolean(parts.pop());
  else parts.push(part);
}
if (inside) link.href = base + 'files/' + parts.map(encodeURIComponent).join('/');
"""


def printed_link(path, words="Open the pages"):
    """Return a link to a printed file, as HTML, with its place in the folder of the jobs.

    Parameters
    ----------
    path : path
        The file.
    words : str
        Words of the link.
    """
    path = Path(path)
    try:
        place = path.relative_to(jobs_folder())
        to = Path(os.path.relpath(path)).as_posix()
    except ValueError:  # not among the jobs, or on another drive
        return f"<p>{escape(words)}: {escape(path.name)}</p>"
    return (
        f'<style onload="{escape(_ADDRESS)}"></style>'
        f'<a class="airlab-link" data-to="{escape(to)}" target="_blank" rel="noopener">{escape(words)}</a>'
        f"<p>{escape(place.as_posix())}, in the folder of the jobs</p>"
    )
