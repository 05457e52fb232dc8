"""Opening lead sheets: from bytes that anybody may have sent to a bounded tree of elements.

Nothing is fetched and no entity is expanded; what a file can make us hold is bounded before it is
held. Valid MusicXML carries a DOCTYPE, which is passed over.
"""

from __future__ import annotations

import io
import zipfile
import zlib
from typing import Final
from xml.etree.ElementTree import (
    Element,
    ParseError,
    TreeBuilder,
)

from defusedxml.common import DefusedXmlException  # type: ignore[import-untyped]
from defusedxml.ElementTree import DefusedXMLParser  # type: ignore[import-untyped]

from gripwright.errors import LeadSheetError

LARGEST_FILE: Final = 8_000_000
"""Bytes of a file, and of any member of a compressed one when unpacked."""

MOST_MEMBERS: Final = 1_000
"""Files in a compressed file."""

MOST_ELEMENTS: Final = 400_000
"""Elements of a document."""

DEEPEST: Final = 100
"""Elements inside each other; MusicXML needs about a dozen."""

_ZIP: Final = b"PK"
_CONTAINER: Final = "META-INF/container.xml"
_MEDIA_TYPE: Final = "application/vnd.recordare.musicxml+xml"
_BROKEN: Final = (
    *(zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError),
    *(RuntimeError, OSError, ValueError, OverflowError),
)


def open_source(data: bytes, *, name: str | None = None) -> tuple[Element, tuple[str, ...]]:
    """The score of a MusicXML file, compressed or not.

    Args:
        data: The file, of at most 8,000,000 bytes.
        name: What to call it in errors.

    Returns:
        The root element, and warnings.

    Raises:
        LeadSheetError: The file is too large, broken, hostile or no MusicXML score.

    Example:
        >>> open_source(b"<score-partwise/>")[0].tag
        'score-partwise'
    """
    if len(data) > LARGEST_FILE:
        raise LeadSheetError(
            name=name, reason=f"it has {len(data):,} bytes, more than {LARGEST_FILE:,}"
        )
    warnings: tuple[str, ...] = ()
    if data.startswith(_ZIP):
        data, warnings = _unpack(data, name)
    root = _parse(data, name)
    if root.tag not in {"score-partwise", "score-timewise"}:
        raise LeadSheetError(
            name=name,
            reason=f"its root is <{root.tag[:40]}>, not a MusicXML <score-partwise>",
        )
    return root, warnings


def _unpack(data: bytes, name: str | None) -> tuple[bytes, tuple[str, ...]]:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            return _score_of(archive, name)
    except LeadSheetError:
        raise
    except _BROKEN as error:
        raise LeadSheetError(
            name=name, reason=f"the compressed file is broken ({type(error).__name__})"
        ) from None


def _score_of(archive: zipfile.ZipFile, name: str | None) -> tuple[bytes, tuple[str, ...]]:
    members = {member.filename: member for member in archive.infolist()}
    if len(members) > MOST_MEMBERS:
        raise LeadSheetError(
            name=name, reason=f"the compressed file has more than {MOST_MEMBERS:,} members"
        )
    if _CONTAINER in members:
        container = _parse(_member(archive, members[_CONTAINER], name), name)
        for rootfile in container.iter("rootfile"):
            path = rootfile.get("full-path", "")
            if rootfile.get("media-type", _MEDIA_TYPE) == _MEDIA_TYPE and path in members:
                return _member(archive, members[path], name), ()
    for path, member in members.items():
        if path.endswith((".musicxml", ".xml")) and not path.startswith("META-INF/"):
            warning = f"{_CONTAINER} names no score; the first one found is read"
            return _member(archive, member, name), (warning,)
    raise LeadSheetError(name=name, reason="the compressed file holds no MusicXML score")


def _member(archive: zipfile.ZipFile, member: zipfile.ZipInfo, name: str | None) -> bytes:
    # Only these two are unpacked piece by piece; the others would unpack all that they are given.
    if member.compress_type not in {zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED}:
        raise LeadSheetError(name=name, reason="it is compressed in a way other than deflate")
    # The size that a member states may be a lie, so that the reading itself is bounded.
    with archive.open(member) as file:
        data = file.read(LARGEST_FILE + 1)
    if len(data) > LARGEST_FILE:
        raise LeadSheetError(name=name, reason=f"unpacked, it has more than {LARGEST_FILE:,} bytes")
    return data


class _TooMuchError(Exception):
    """More elements than are held."""


class _BoundedBuilder(TreeBuilder):
    """Builds elements without namespaces, up to a number and a depth."""

    def __init__(self) -> None:
        super().__init__()
        self._count = 0
        self._depth = 0

    def start(self, tag: str, attrs: dict[str, str], /) -> Element:
        self._count += 1
        self._depth += 1
        if self._count > MOST_ELEMENTS:
            message = f"it has more than {MOST_ELEMENTS:,} elements"
            raise _TooMuchError(message)
        if self._depth > DEEPEST:
            message = f"it has more than {DEEPEST} elements inside each other"
            raise _TooMuchError(message)
        return super().start(tag.rpartition("}")[2], attrs)

    def end(self, tag: str, /) -> Element:
        self._depth -= 1
        return super().end(tag.rpartition("}")[2])


def _parse(data: bytes, name: str | None) -> Element:
    parser = DefusedXMLParser(
        target=_BoundedBuilder(), forbid_dtd=False, forbid_entities=True, forbid_external=True
    )
    try:
        parser.feed(data)
        root: Element = parser.close()
    except _TooMuchError as error:
        raise LeadSheetError(name=name, reason=str(error)) from None
    except DefusedXmlException as error:
        raise LeadSheetError(
            name=name,
            reason=f"it declares entities, which no score needs ({type(error).__name__})",
        ) from None
    except ParseError as error:
        line, column = error.position
        raise LeadSheetError(
            name=name,
            reason=f"it is no well-formed XML: {str(error).partition(':')[0]}",
            line=line,
            column=column + 1,
        ) from None
    except (ValueError, LookupError) as error:
        # An encoding that nobody knows, or one that expat refuses.
        raise LeadSheetError(
            name=name, reason=f"its encoding cannot be read ({type(error).__name__})"
        ) from None
    return root
