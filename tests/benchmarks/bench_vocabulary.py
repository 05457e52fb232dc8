"""Speed of a large vocabulary, as ratios against bare SQL measured in the same run.

Run from the root of the repository::

    python -m tests.benchmarks.bench_vocabulary

The store holds ten thousand entries and a hundred thousand reviews. The rival reads the rows that
a command reads, with ``sqlite3`` of the standard library and ``fetchall``, and makes nothing of
them. For writing, the rival is one transaction with one row and the same durability. Rival and own
run in turn; ratios are the median of several rounds. Nothing is asserted: the targets stand beside
what was measured.
"""

from __future__ import annotations

import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from itertools import islice
from pathlib import Path
from typing import Final

from gripwright import QUALITIES, Chart, Chord, Note, find_voicings
from gripwright.vocabulary import GRADES, Entry, Facts, Profile, grip_for
from gripwright_server.store import Document, Review, Store, overview, today
from tests.benchmarks.bench_search import row
from tests.core.neck.reference import instrument

ENTRIES: Final = 10_000
REVIEWS: Final = 100_000
ROUNDS: Final = 5
START: Final = datetime(2025, 1, 1, 19, tzinfo=UTC)
NOW: Final = START + timedelta(days=365)
TUNE: Final = "| Gm7 | C7 | Fmaj7 | % | Em7b5 | A7b9 | Dm6 | % |"
_TODAY: Final = (
    "SELECT entry.id, category, movable, degrees, families, inversion, top_degree, string_set,"
    " reference, state, added, due, last_review FROM entry LEFT JOIN card"
    " ON card.entry_id = entry.id WHERE state <> 'retired' ORDER BY entry.id"
)
_GAPS: Final = (
    "SELECT id, category, movable, degrees, families, inversion, top_degree, string_set, reference"
    " FROM entry WHERE state <> 'retired' ORDER BY id"
)


def grips() -> Iterator[Entry]:
    """Yield different movable grips of every quality on a guitar of six strings."""
    guitar = instrument("guitar")
    found: set[str] = set()
    for quality in QUALITIES.values():
        chord = Chord(Note("C"), quality)
        table = find_voicings(chord, guitar, no_open=True, lowest_fret=3, highest_fret=14)
        for voicing in islice(table, 0, None, max(1, len(table) // 300)):
            grip = grip_for(chord, guitar, voicing.frets)
            facts = Facts.of(grip)
            if facts.id not in found:
                found.add(facts.id)
                yield Entry(grip, START, source="benchmark", facts=facts)


def document() -> Document:
    """Return a vocabulary of the size of the benchmark."""
    entries = tuple(islice(grips(), ENTRIES))
    assert len(entries) == ENTRIES
    names = list(GRADES)
    reviews = tuple(
        Review(
            f"review-{number}",
            entries[number % ENTRIES].id,
            names[1 + (number * 7919) % 3],
            START + timedelta(days=30 * (number // ENTRIES), seconds=number % ENTRIES),
        )
        for number in range(REVIEWS)
    )
    profile = Profile(instrument("guitar"))
    return Document(profile, (profile.instrument,), entries, reviews)


def seconds(work: Callable[[], object]) -> float:
    """Return the seconds that a run takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def in_turn(label: str, own: Callable[[], object], rival: Callable[[], object], aim: str) -> None:
    """Measure in turn and print the milliseconds and the ratio."""
    own()
    rival()
    rounds = [(seconds(own), seconds(rival)) for _ in range(ROUNDS)]
    least = min(mine for mine, _ in rounds) * 1000
    bare = min(theirs for _, theirs in rounds) * 1000
    ratio = statistics.median(mine / theirs for mine, theirs in rounds)
    row(label, f"{least:.1f} ms ({bare:.1f} ms)", "")
    row("  in bare SQL", f"{ratio:.1f}", aim)


def fetching(path: Path, query: str) -> Callable[[], object]:
    """Return what reads the rows of a query with the bare driver, on an open connection."""
    connection = sqlite3.connect(path)
    return lambda: connection.execute(query).fetchall()


def reads(store: Store, path: Path) -> None:
    """Measure the plan of the day, and categories with gaps."""
    tune = Chart.parse(TUNE)
    in_turn("today", lambda: today(store, NOW), fetching(path, _TODAY), "< 20")
    in_turn("today, with a tune", lambda: today(store, NOW, tune=tune), fetching(path, _TODAY), "")
    in_turn(
        "today, nothing due",
        lambda: today(store, START + timedelta(days=280)),
        fetching(path, _TODAY),
        "",
    )
    in_turn("gaps", lambda: overview(store), fetching(path, _GAPS), "< 20")
    whole = "SELECT * FROM review ORDER BY reviewed_at, id"
    in_turn("export", store.export, fetching(path, whole), "")


def writes(store: Store, path: Path) -> None:
    """Measure one review and one entry, each a transaction that is on the disk."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("CREATE TABLE rival (id TEXT PRIMARY KEY, note TEXT)")
    numbers = iter(range(10**6))
    entries = store.entries(category="maj7")[0]
    more = islice(grips(), ENTRIES, None)

    def bare() -> None:
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("INSERT INTO rival VALUES (?, 'x')", (f"{next(numbers)}",))
        connection.execute("COMMIT")

    def review() -> None:
        number = next(numbers)
        at = NOW + timedelta(minutes=number)
        store.review(Review(f"more-{number}", entries.id, "in-time", at))

    ready = list(islice(more, 2 * ROUNDS))
    in_turn("one review", review, bare, "")
    in_turn("one entry", lambda: store.add([ready.pop()]), bare, "one transaction")
    connection.execute("DROP TABLE rival")


def main() -> None:
    """Measure and print."""
    whole = document()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "large.db"
        with Store.open(path) as store:
            data = whole.dump()
            row("import of all", f"{seconds(lambda: store.bring_in(data)):.1f} s", "")
            row("import of all again", f"{seconds(lambda: store.bring_in(data)):.1f} s", "")
            row("file", f"{path.stat().st_size / 1e6:.1f} MB", "")
            reads(store, path)
            writes(store, path)


if __name__ == "__main__":
    main()
