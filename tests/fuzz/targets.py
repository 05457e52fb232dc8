"""Every reader of outside text or bytes, by name."""

from typing import Final

from tests.fuzz.documents import DOCUMENTS
from tests.fuzz.notations import NOTATIONS
from tests.fuzz.service import SERVICE
from tests.fuzz.target import Target

TARGETS: Final[dict[str, Target]] = {
    target.name: target for target in (*NOTATIONS, *DOCUMENTS, *SERVICE)
}
"""Every target."""
