"""The operations on a player's vocabulary, each declared once and offered by every surface.

Needs the extra ``store`` of the distribution; so nothing that every command loads imports it.
"""

from typing import Final

from gripwright_server.operations.vocabulary.begin import BEGIN, PROFILE
from gripwright_server.operations.vocabulary.book import BOOK
from gripwright_server.operations.vocabulary.checking import CHECK
from gripwright_server.operations.vocabulary.copying import EXPORT, IMPORT
from gripwright_server.operations.vocabulary.desk import Desk, StoreOperation
from gripwright_server.operations.vocabulary.entries import ADD, CHANGE, LIST, REMOVE
from gripwright_server.operations.vocabulary.gaps import GAPS
from gripwright_server.operations.vocabulary.reviewing import ANSWER, ASK, REVIEW
from gripwright_server.operations.vocabulary.showing import SHOW
from gripwright_server.operations.vocabulary.today import LEARN, TODAY

VOCABULARY: Final[tuple[StoreOperation, ...]] = (
    ADD,
    ANSWER,
    ASK,
    BEGIN,
    BOOK,
    CHANGE,
    CHECK,
    EXPORT,
    GAPS,
    IMPORT,
    LEARN,
    LIST,
    PROFILE,
    REMOVE,
    REVIEW,
    SHOW,
    TODAY,
)
"""Every operation on a vocabulary, by name."""

__all__ = ["VOCABULARY", "Desk", "StoreOperation"]
