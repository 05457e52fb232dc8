"""Writers in processes of their own: killed in the middle, in a crowd, and where no room is left.

Run as ``python -m tests.server.store.processes COMMAND FILE COUNT``; the answer is JSON. Each
writer is a fork of this process, which has everything loaded, so that hundreds of them are quick.
A writer acknowledges a step, by a line through a pipe, after the store said that it is done.
"""

import json
import os
import random
import resource
import select
import signal
import sqlite3
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import timedelta
from itertools import count
from pathlib import Path
from typing import Any, Final

import attrs

from gripwright_server.store import Document, Review, Store, StoreError
from tests.server.store.shelf import NOW, PLAYER, entries

LONGEST_LIFE_SECONDS: Final = 0.05
IN_AN_IMPORT: Final = 3
CHECKED_EVERY: Final = 25


def writes(store: Store, name: str) -> Iterator[str]:
    """Yield the acknowledged steps of a writer that does every kind of write in turn."""
    shelf = entries()
    store.add(shelf[:1])
    for number in count():
        at = NOW + timedelta(seconds=number)
        entry = shelf[number % len(shelf)]
        store.add([entry])
        yield f"entry {entry.id}"
        review = Review(f"{name}/{number}", entry.id, "in-time", at)
        store.review(review)
        yield f"review {review.id}"
        store.change(entry.id, note=f"{name}/{number}")
        store.keep_profile(attrs.evolve(PLAYER, left_handed=bool(number % 2)))
        log = tuple(
            Review(f"import/{name}/{number}/{part}", entry.id, "slowly", at)
            for part in range(IN_AN_IMPORT)
        )
        store.bring_in(Document(None, (entry.voicing.instrument,), (entry,), log).dump())
        yield f"review {log[-1].id}"


def writer(path: Path, name: str, steps: Callable[[Store, str], Iterator[str]]) -> tuple[int, int]:
    """Fork a writer; return its process and the pipe of what it acknowledges."""
    receives, sends = os.pipe()
    process = os.fork()
    if process:
        os.close(sends)
        return process, receives
    status = 1
    try:
        os.close(receives)
        with Store.open(path) as store:
            for step in steps(store, name):
                os.write(sends, f"{step}\n".encode())
        status = 0
    except StoreError as error:
        os.write(sends, f"error {error.fault}\n".encode())
        status = 3
    finally:
        os._exit(status)


def heard(pipe: int) -> list[str]:
    """Return the whole lines that came through a pipe, to its end."""
    with os.fdopen(pipe, "rb") as file:
        return [line.decode() for line in file.read().split(b"\n")[:-1]]


def faults_of(path: Path, steps: list[str]) -> list[str]:
    """Return what is wrong with a store after some steps were acknowledged."""
    with closing(sqlite3.connect(path)) as raw:
        found = [f"integrity: {row[0]}" for row in raw.execute("PRAGMA integrity_check")]
        found = [fault for fault in found if fault != "integrity: ok"]
        found += [f"orphan: {row}" for row in raw.execute("PRAGMA foreign_key_check")]
        tables = {row[0] for row in raw.execute("SELECT name FROM sqlite_master")}
        if "review" not in tables:
            return found + [f"lost: {step}" for step in steps]
        held = {f"review {row[0]}" for row in raw.execute("SELECT id FROM review")}
        held |= {f"entry {row[0]}" for row in raw.execute("SELECT id FROM entry")}
        found += [f"lost: {step}" for step in steps if step not in held]
        halves = raw.execute(
            "SELECT count(*) FROM review WHERE id LIKE 'import/%'"
            " GROUP BY substr(id, 1, length(id) - 2)"
        )
        found += [f"half an import: {row}" for row in halves if row[0] != IN_AN_IMPORT]
        cards = raw.execute(
            "SELECT (SELECT count(DISTINCT entry_id) FROM review), (SELECT count(*) FROM card)"
        ).fetchone()
        return found if cards[0] == cards[1] else [*found, f"cards: {cards}"]


def kill(path: Path, rounds: int) -> dict[str, Any]:
    """Kill a writer again and again, each time somewhere in its work."""
    dice = random.Random(7)  # noqa: S311 - moments, no secret
    faults: list[str] = []
    steps: list[str] = []
    early = 0
    for number in range(rounds):
        process, pipe = writer(path, f"round-{number}", writes)
        if number % 4:
            # Past the opening, which is long beside a write; else anywhere in it.
            select.select([pipe], [], [], 60)
        time.sleep(dice.uniform(0, LONGEST_LIFE_SECONDS))
        os.kill(process, signal.SIGKILL)
        _, status = os.waitpid(process, 0)
        early += not os.WIFSIGNALED(status)
        steps += heard(pipe)
        faults += [f"round {number}: {fault}" for fault in faults_of(path, steps)]
        if number % CHECKED_EVERY == 0:
            with Store.open(path) as store:
                faults += [f"round {number}: {fault}" for fault in store.check()]
    with Store.open(path) as store:
        faults += store.check()
        store.review(Review("after", entries()[0].id, "in-time", NOW))
    return {"acknowledged": len(steps), "ended by themselves": early, "faults": faults}


def crowd(path: Path, writers: int) -> dict[str, Any]:
    """Let writers begin a store together and write at once, own reviews and shared ones."""

    def steps(store: Store, name: str) -> Iterator[str]:
        shelf = entries()
        store.add(shelf[:3])
        for number in range(25):
            for own in (name, "shared"):
                entry = shelf[number % IN_AN_IMPORT]
                review = Review(
                    f"{own}/{number}", entry.id, "in-time", NOW + timedelta(hours=number)
                )
                store.review(review)
                yield f"review {review.id}"

    processes = [writer(path, f"writer-{number}", steps) for number in range(writers)]
    acknowledged = [step for _, pipe in processes for step in heard(pipe)]
    statuses = [os.waitpid(process, 0)[1] for process, _ in processes]
    faults = faults_of(path, [step for step in acknowledged if not step.startswith("error")])
    with Store.open(path) as store:
        faults += store.check()
        held = len(store.reviews())
    return {"acknowledged": acknowledged, "statuses": statuses, "held": held, "faults": faults}


def no_room(path: Path, kilobytes: int) -> dict[str, Any]:
    """Let a writer run into a limit on the size of files, that of the system call itself."""

    def steps(store: Store, name: str) -> Iterator[str]:
        limit = kilobytes * 1024
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
        yield from writes(store, name)

    return ended(path, steps)


def small_disk(path: Path, _count: int) -> dict[str, Any]:
    """Let a writer fill the file system on which the store lies."""
    return ended(path, writes)


def ended(path: Path, steps: Callable[[Store, str], Iterator[str]]) -> dict[str, Any]:
    """Let a writer end by itself; say what it acknowledged and met, and what is wrong after it."""
    with Store.open(path):
        pass
    process, pipe = writer(path, "writer", steps)
    ready, _, _ = select.select([pipe], [], [], 60)
    lines = heard(pipe) if ready else []
    os.waitpid(process, 0)
    acknowledged = [line for line in lines if not line.startswith("error")]
    met = [line for line in lines if line.startswith("error")]
    faults = faults_of(path, acknowledged)
    return {"acknowledged": len(acknowledged), "met": met, "faults": faults}


COMMANDS: Final = {"kill": kill, "crowd": crowd, "no-room": no_room, "small-disk": small_disk}


def main(command: str, path: str, number: str) -> None:
    """Do a command and print what came of it."""
    entries()
    sys.stdout.write(json.dumps(COMMANDS[command](Path(path), int(number))))


if __name__ == "__main__":
    main(*sys.argv[1:])
