"""How do pages become files that are kept? One file with all pages, one for each, none lost.

A blank page may be printed again over itself. A page that holds what was recorded, or that
somebody has changed since it was printed, is never written over: the new one gets a number.
"""

import hashlib
import os
import re
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from uuid import uuid4

from airlab.sheets.page import Page, content_digest, document
from airlab.words import InputError

__all__ = ["PackPages", "write_pages"]

_MOST_TRIES = 1000
_STATE = re.compile(r'<meta name="page-state" content="(\w+)">')
_DIGEST = re.compile(r'<meta name="page-digest" content="([0-9a-f]+)">')
_SEAL = re.compile(r"<!-- seal ([0-9a-f]+) -->\s*$")


@dataclass(frozen=True, slots=True)
class PackPages:
    """The pages of one printing: their records and the files that hold them."""

    pages: tuple[Page, ...]
    pack: Path
    files: tuple[Path, ...]
    notes: tuple[str, ...] = ()

    def page(self, key):
        """Return the page of that key.

        Raises
        ------
        InputError
            If the pack has no such page; the message lists those it has.
        """
        for page in self.pages:
            if page.key == key:
                return page
        listed = ", ".join(page.key for page in self.pages)
        raise InputError(f"Page is {key!r}. The pack has: {listed}.")

    def html(self):
        """Return the whole pack as one document."""
        return document(self.pages, "Pack")

    def sentence(self, units="metric"):
        """Return how many pages stand where."""
        name, count = self.pages[0].heading.name, len(self.pages)
        text = (
            f"{count} page{'s' if count > 1 else ''} for {name}: {self.pack.name} in the folder "
            f"{self.pack.parent.name}. Open it in a browser and print on A4 or Letter."
        )
        return " ".join((text, *self.notes))


def write_pages(pages, folder, name="pack", singles=True, title="Pack"):
    """Write pages as one file and one by one; return the PackPages.

    Parameters
    ----------
    pages : iterable of Page
        Pages in the order of the pack.
    folder : path
        Folder to write to; made if it is not there.
    name : str
        File name of the whole pack, without ending; empty writes single pages only.
    singles : bool
        Whether each page also becomes a file of its own.
    title : str
        Title of the file that holds all pages.

    Raises
    ------
    InputError
        If there is no page, or the folder may not be written.
    """
    pages, folder = tuple(pages), Path(folder)
    if not pages:
        raise InputError("There is no page to print. Choose at least one.")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        files, notes = [], []
        whole = ((name, pages),) if name else ()
        alone = ((page.key, (page,)) for page in pages if singles or not name)
        for stem, group in (*whole, *alone):
            called = title if stem == name else group[0].title
            filled = any(page.filled for page in group)
            path, note = _keep(folder, f"{stem}-filled" if filled else stem, group, called)
            files.append(path)
            notes += [note] if note else []
    except OSError as error:
        raise InputError(
            f"The pages were not written: {error.strerror or error}. Choose another folder, or "
            f"allow writing in {folder.name}. Nothing that was there has changed."
        ) from None
    return PackPages(pages, files[0], tuple(files[len(whole) :]), tuple(notes))


def _keep(folder, stem, pages, title):
    """Write one document under the first name that loses nothing; say where if it is a new one."""
    content = _sealed(document(pages, title))
    wanted = content_digest(pages)
    for number in range(1, _MOST_TRIES):
        path = folder / (f"{stem}.html" if number == 1 else f"{stem}-{number}.html")
        old = path.read_text(encoding="utf-8", errors="replace") if path.exists() else None
        if old is None:
            if _create(path, content):
                return path, _said(stem, path) if number > 1 else ""
            continue
        intact = _intact(old)
        if intact and _found(_DIGEST, old) == wanted:
            return path, ""
        if intact and _found(_STATE, old) == "blank":
            _replace(path, content)
            return path, ""
    raise InputError(f"{stem}.html has {_MOST_TRIES} copies. Move old pages to another folder.")


def _said(stem, path):
    return f"{stem}.html holds earlier entries and was kept; the new page is {path.name}."


def _sealed(content):
    content = content.replace("\r\n", "\n").replace("\r", "\n")
    return f"{content.rstrip()}\n<!-- seal {_seal_of(content)} -->\n"


def _seal_of(content):
    return hashlib.sha256(content.rstrip().encode("utf-8")).hexdigest()[:16]


def _intact(content):
    """Whether a file is word for word what was printed."""
    seal = _SEAL.search(content)
    return bool(seal) and _seal_of(content[: seal.start()]) == seal[1]


def _found(pattern, content):
    match = pattern.search(content)
    return match[1] if match else ""


def _create(path, content):
    """Write a file that is not there yet; False if somebody was faster."""
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(content)
    except FileExistsError:
        return False
    return True


def _replace(path, content):
    part = path.with_name(f".{path.name}.{uuid4().hex[:8]}.part")
    try:
        part.write_text(content, encoding="utf-8", newline="\n")
        os.replace(part, path)
    finally:
        with suppress(OSError):
            part.unlink()
