"""The store of a vocabulary: a file of SQLite, through SQLAlchemy Core.

Needs the extra ``store`` of the distribution.
"""

from gripwright_server.store.day import (
    Overview,
    begin,
    know_already,
    learn,
    overview,
    profile_of,
    today,
)
from gripwright_server.store.document import Document, Imported
from gripwright_server.store.failure import DocumentError, StoreError
from gripwright_server.store.place import VARIABLE, store_path
from gripwright_server.store.schedule import RATINGS, Review, Schedule
from gripwright_server.store.store import Reviewed, Store

__all__ = [
    "RATINGS",
    "VARIABLE",
    "Document",
    "DocumentError",
    "Imported",
    "Overview",
    "Review",
    "Reviewed",
    "Schedule",
    "Store",
    "StoreError",
    "begin",
    "know_already",
    "learn",
    "overview",
    "profile_of",
    "store_path",
    "today",
]
