"""Where the store is, if nobody says."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from platformdirs import user_data_path

VARIABLE: Final = "GRIPWRIGHT_STORE"
"""The variable of the environment that names the file."""

_FILE: Final = "vocabulary.db"


def store_path(given: str | None = None, environment: Mapping[str, str] | None = None) -> Path:
    """The file of the store.

    Args:
        given: The file that was asked for; it comes first.
        environment: The environment, that of the process if not given; its `VARIABLE` comes next.

    Returns:
        The file; in the user's data folder, where neither names one.

    Example:
        >>> store_path("grips.db").name, store_path(None, {VARIABLE: "/srv/mine.db"}).name
        ('grips.db', 'mine.db')
        >>> store_path(None, {}).name
        'vocabulary.db'
    """
    named = given or (os.environ if environment is None else environment).get(VARIABLE)
    return Path(named) if named else user_data_path("gripwright", appauthor=False) / _FILE
