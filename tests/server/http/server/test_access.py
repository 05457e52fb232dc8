"""Lines of the log."""

from hypothesis import given
from hypothesis import strategies as st

from gripwright_server.http.server.access import log_line


@given(first_line=st.text(max_size=400))
def test_nothing_of_a_request_begins_a_line(first_line: str) -> None:
    """One line of ASCII, whatever stands in it."""
    line = log_line(
        client="::1", first_line=first_line, status="200 OK", sent=0, seconds=0.5, at=0, broken=True
    )
    assert line.isascii()
    assert line.isprintable()
    assert line.count('"') == 2
    assert line.endswith(" 200 0 500 ms broken off")
