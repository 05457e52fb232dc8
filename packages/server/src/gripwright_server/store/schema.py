"""The tables of a store: plain types only, so that any SQL database can hold them.

The log of reviews is the truth; cards are worked out from it and could be thrown away. So are the
columns of an entry from ``category`` on, which are kept for the sake of speed.
"""

from __future__ import annotations

from typing import Final

from sqlalchemy import Boolean, Column, Float, ForeignKey, Index, MetaData, String, Table, Text

SCHEMA_VERSION: Final = 1
"""The version of these tables."""

METADATA: Final = MetaData()

# Not "schema": that is a word of SQL.
about: Final = Table(
    "about",
    METADATA,
    Column("name", String(40), primary_key=True),
    Column("value", Text, nullable=False),
)
"""What the store says of itself: its version, and the player's profile."""

instruments: Final = Table(
    "instrument",
    METADATA,
    Column("id", String(200), primary_key=True),
    Column("definition", Text, nullable=False),
)
"""The instruments of entries and profile, each as JSON."""

entries: Final = Table(
    "entry",
    METADATA,
    Column("id", String(400), primary_key=True),
    Column("instrument_id", ForeignKey("instrument.id"), nullable=False),
    Column("chord", String(64), nullable=False),
    Column("frets", String(80), nullable=False),
    Column("added", String(27), nullable=False),
    Column("tags", Text, nullable=False),
    Column("note", Text, nullable=False),
    Column("source", Text, nullable=False),
    Column("state", String(10), nullable=False),
    Column("category", String(80), nullable=False),
    Column("movable", Boolean, nullable=False),
    Column("degrees", String(80), nullable=False),
    Column("families", Text, nullable=False),
    Column("inversion", String(10), nullable=False),
    Column("top_degree", String(8), nullable=False),
    Column("string_set", String(80), nullable=False),
    Column("reference", String(80), nullable=False),
    Index("entry_by_category", "instrument_id", "category"),
)
"""The grips, as they were entered, and what is worked out of them."""

reviews: Final = Table(
    "review",
    METADATA,
    Column("id", String(400), primary_key=True),
    Column("entry_id", ForeignKey("entry.id"), nullable=False),
    Column("grade", String(20), nullable=False),
    Column("reviewed_at", String(27), nullable=False),
    Index("review_by_entry", "entry_id", "reviewed_at", "id"),
)
"""The log: who reviews makes the id, so that the same review counts once."""

cards: Final = Table(
    "card",
    METADATA,
    Column("entry_id", ForeignKey("entry.id"), primary_key=True),
    Column("stability", Float, nullable=False),
    Column("difficulty", Float, nullable=False),
    Column("due", String(27), nullable=False),
    Column("last_review", String(27), nullable=False),
    Index("card_by_due", "due"),
)
"""When each reviewed grip is due, worked out from the log."""
