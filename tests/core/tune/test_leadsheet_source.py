"""Opening files that anybody may have sent."""

from __future__ import annotations

import io
import pickle
import tracemalloc
import zipfile

import pytest

from gripwright.errors import GripwrightError, LeadSheetError
from gripwright.tune.leadsheet import read_leadsheet
from gripwright.tune.leadsheet_source import (
    DEEPEST,
    LARGEST_FILE,
    MOST_ELEMENTS,
    MOST_MEMBERS,
    open_source,
)
from tests.core.tune.leadsheet_files import CONTAINER, harmony, packed, rest, score

GOOD = score(harmony("major") + rest())
MOST_MEMORY = 150_000_000


def refusal(data: bytes) -> str:
    """The message of the refusal, which must not have held much memory."""
    tracemalloc.start()
    try:
        with pytest.raises(LeadSheetError) as caught:
            read_leadsheet(data, name="tune.xml")
        assert tracemalloc.get_traced_memory()[1] < MOST_MEMORY
    finally:
        tracemalloc.stop()
    message = str(caught.value)
    assert message.startswith("cannot read lead sheet 'tune.xml': ")
    return message


def test_doctype_of_musicxml_is_passed_over() -> None:
    """Valid files carry a DOCTYPE with an address, which is not fetched."""
    assert b"<!DOCTYPE" in GOOD
    assert str(read_leadsheet(GOOD).chart) == "key: C\nmetre: 4/4\n| C |"


def test_every_encoding_that_xml_names_is_read() -> None:
    """UTF-16 with its mark is as good as UTF-8."""
    text = GOOD.decode().replace("UTF-8", "UTF-16")
    assert read_leadsheet(text.encode("utf-16")).chart == read_leadsheet(GOOD).chart


def test_billion_laughs_are_refused() -> None:
    """Entities that expand into each other are refused before they expand."""
    entities = "".join(f'<!ENTITY l{level} "{f"&l{level - 1};" * 10}">' for level in range(1, 10))
    text = f'<!DOCTYPE x [<!ENTITY l0 "lol">{entities}]><score-partwise>&l9;</score-partwise>'
    assert "declares entities" in refusal(text.encode())


def test_quadratic_blowup_is_refused() -> None:
    """One long entity used often is refused as well."""
    text = f'<!DOCTYPE x [<!ENTITY a "{"a" * 50_000}">]><score-partwise>{"&a;" * 50_000}'
    assert "declares entities" in refusal(text.encode())


@pytest.mark.parametrize(
    "declaration",
    [
        '<!ENTITY e SYSTEM "file:///etc/hostname">',
        '<!ENTITY e SYSTEM "http://127.0.0.1:1/x">',
        '<!ENTITY % e SYSTEM "http://127.0.0.1:1/x"> %e;',
    ],
)
def test_external_entities_are_refused(declaration: str) -> None:
    """No file and no address is opened."""
    text = f"<!DOCTYPE x [{declaration}]><score-partwise>&e;</score-partwise>"
    assert "declares entities" in refusal(text.encode())


def test_undefined_entity_is_refused_with_its_place() -> None:
    """An entity that only the DTD would define is not looked up."""
    message = refusal(GOOD.replace(b"Lead", b"&nbsp;"))
    assert "undefined entity" in message
    assert "line 1, column" in message


@pytest.mark.parametrize("size", [LARGEST_FILE + 1, 10_000_001, 40_000_000])
def test_large_files_are_refused_unread(size: int) -> None:
    """What is over the limit is not parsed."""
    assert "more than 8,000,000" in refusal(b" " * size)


def test_zip_bomb_is_refused_at_the_limit() -> None:
    """A member is unpacked to the limit and no further."""
    bomb = packed(("META-INF/container.xml", CONTAINER.encode()), ("score.xml", b" " * 10**8))
    assert len(bomb) < LARGEST_FILE
    assert "unpacked, it has more than 8,000,000 bytes" in refusal(bomb)


def test_container_may_be_a_bomb_too() -> None:
    """The member that names the score is bounded as the score is."""
    bomb = packed(("META-INF/container.xml", b" " * 10**8), ("score.xml", GOOD))
    assert "unpacked" in refusal(bomb)


def test_a_member_that_lies_about_its_size_is_refused() -> None:
    """The stated size is not believed."""
    data = bytearray(packed(("score.xml", b" " * (LARGEST_FILE + 100))))
    place = data.index(b"PK\x01\x02") + 24
    data[place : place + 4] = (10).to_bytes(4, "little")
    assert "cannot read lead sheet" in refusal(bytes(data))


@pytest.mark.parametrize("method", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_other_compressions_are_refused(method: int) -> None:
    """MusicXML packs with deflate; the others cannot be unpacked piece by piece."""
    assert "other than deflate" in refusal(packed(("score.xml", GOOD), method=method))


def test_every_cut_of_a_compressed_file_is_refused() -> None:
    """A truncated file is a clear refusal wherever it is cut."""
    whole = packed(("META-INF/container.xml", CONTAINER.encode()), ("score.xml", GOOD))
    for end in range(2, len(whole) - 1, 17):
        with pytest.raises(LeadSheetError):
            read_leadsheet(whole[:end])


def test_every_flipped_byte_of_a_compressed_file_is_read_or_refused() -> None:
    """Damage inside a compressed file is never another error."""
    whole = packed(("META-INF/container.xml", CONTAINER.encode()), ("score.xml", GOOD))
    for place in range(len(whole)):
        damaged = bytearray(whole)
        damaged[place] ^= 0xFF
        try:
            read_leadsheet(bytes(damaged))
        except LeadSheetError:
            continue


def test_encrypted_members_are_refused() -> None:
    """A password is not asked for."""
    data = bytearray(packed(("score.xml", GOOD)))
    for head, flag in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        data[data.index(head) + flag] |= 1
    assert "broken (RuntimeError)" in refusal(bytes(data))


def test_many_members_are_refused() -> None:
    """A directory of thousands is no score."""
    members = [(f"{number}.txt", b"") for number in range(MOST_MEMBERS + 1)]
    assert "members" in refusal(packed(*members))


def test_a_compressed_file_without_a_container_is_read_with_a_warning() -> None:
    """Some programs forget it."""
    sheet = read_leadsheet(packed(("tune.musicxml", GOOD)))
    assert sheet.chart == read_leadsheet(GOOD).chart
    assert sheet.warnings == ("META-INF/container.xml names no score; the first one found is read",)


def test_a_compressed_file_without_a_score_is_refused() -> None:
    """A zip of anything else says what is missing."""
    assert "holds no MusicXML score" in refusal(packed(("readme.txt", b"hello")))


def test_the_container_chooses_the_score() -> None:
    """Of several members the one that it names is read; pictures are passed over."""
    container = (
        "<container><rootfiles><rootfile full-path='a.pdf' media-type='application/pdf'/>"
        "<rootfile full-path='b.xml' media-type='application/vnd.recordare.musicxml+xml'/>"
        "</rootfiles></container>"
    )
    other = score(harmony("minor") + rest())
    data = packed(
        *(("a.xml", GOOD), ("a.pdf", b"%PDF"), ("b.xml", other)),
        ("META-INF/container.xml", container.encode()),
    )
    assert read_leadsheet(data).chart == read_leadsheet(other).chart


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "no element found"),
        (b"\x00\x01\x02", "not well-formed"),
        (b"| Dm7 G7 |", "syntax error"),
        (b"<score-partwise><part>", "no element found"),
        (b"<html></html>", "its root is <html>"),
        (b"<opus/>", "its root is <opus>"),
        (b"<score-partwise/>", "no chord symbols"),
        (b'<?xml version="1.0" encoding="klingon"?><score-partwise/>', "encoding"),
        (b"PK", "broken"),
        (b"PK\x03\x04" + b"\xff" * 100, "broken"),
    ],
)
def test_what_is_no_score_is_refused(data: bytes, said: str) -> None:
    """The refusal says what was found."""
    assert said in refusal(data)


def test_many_elements_are_refused() -> None:
    """Small elements hold more memory than their bytes."""
    text = "<score-partwise>" + "<a/>" * MOST_ELEMENTS + "</score-partwise>"
    assert "400,000 elements" in refusal(text.encode())


def test_deep_elements_are_refused() -> None:
    """Nesting is bounded; a score needs little."""
    text = "<score-partwise>" + "<a>" * DEEPEST
    assert "inside each other" in refusal(text.encode())


def test_namespaces_are_passed_over() -> None:
    """A default namespace, which some programs add, does not hide the elements."""
    data = GOOD.replace(b"<score-partwise ", b"<score-partwise xmlns='urn:x' ")
    assert open_source(data)[0].find("part/measure") is not None


def test_the_error_is_pickled_with_its_data() -> None:
    """It crosses processes, and is a ValueError to those who know no more."""
    error = LeadSheetError(name="x.mxl", reason="it is empty", line=2, column=3)
    again = pickle.loads(pickle.dumps(error))
    assert isinstance(again, GripwrightError)
    assert isinstance(again, ValueError)
    assert isinstance(again, LeadSheetError)
    assert str(again) == "cannot read lead sheet 'x.mxl': it is empty (line 2, column 3)"
    assert (again.name, again.reason, again.line, again.column) == (
        *("x.mxl", "it is empty"),
        *(2, 3),
    )


def test_reading_leaves_no_file_open() -> None:
    """All is read from memory."""
    data = packed(("score.xml", GOOD))
    assert zipfile.is_zipfile(io.BytesIO(data))
    assert read_leadsheet(data).chart.bars
