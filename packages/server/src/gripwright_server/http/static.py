"""The files of an app beside the API, from one folder and from nowhere else."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final
from urllib.parse import quote

from flask import redirect, send_file

from gripwright_server.http.kinds import NOT_FOUND

if TYPE_CHECKING:
    from pathlib import Path

    from werkzeug import Response

_INDEX: Final = "index.html"


def safe_file(folder: Path, name: str) -> Path | None:
    """The file of a name below a folder, or None.

    None for what lies outside of it once all links are followed, for hidden files and what lies in
    hidden folders, and for what is no regular file. A folder stands for its ``index.html``.

    Args:
        folder: The folder.
        name: The path of a request, decoded, without its first slash.
    """
    parts = name.split("/")
    if (
        name.startswith("/")
        or "\0" in name
        or "\\" in name
        or any(part.startswith(".") for part in parts)
    ):
        return None
    try:
        root = folder.resolve(strict=True)
        path = root.joinpath(*filter(None, parts)).resolve(strict=True)
        if path.is_dir():
            path = (path / _INDEX).resolve(strict=True)
        elif not parts[-1]:
            return None
    except (OSError, RuntimeError):
        return None
    return path if path.is_relative_to(root) and path.is_file() else None


def send_static(folder: Path, name: str) -> Response:
    """A file of the folder.

    Raises:
        ProblemError: There is none of that name.
    """
    path = safe_file(folder, name)
    if path is None:
        raise NOT_FOUND.error()
    if name and not name.endswith("/") and path.name == _INDEX != name.rpartition("/")[2]:
        # What the index refers to lies beside it.
        return redirect(f"/{quote(name)}/")
    response = send_file(path, conditional=True, max_age=None)
    response.headers["Cache-Control"] = "no-cache"
    return response
