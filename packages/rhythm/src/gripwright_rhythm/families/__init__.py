"""Rhythm families: patterns as data, and small rules that make them for any metre.

`families` gives them all; `read_families` reads those of others from TOML.
"""

from gripwright_rhythm.families.definitions import read_families
from gripwright_rhythm.families.usual import families

__all__ = ["families", "read_families"]
