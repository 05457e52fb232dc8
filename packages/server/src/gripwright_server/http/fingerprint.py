"""What answers are worked out by, as one short text: library, plugins, and the data of both.

Equal installations give equal fingerprints, on whatever machine; a change of any source or data
file of the library or of a plugin gives another.
"""

from __future__ import annotations

import functools
import hashlib
import importlib.util
from pathlib import Path
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright.plugins import Registry

_OWN: Final = ("gripwright", "gripwright_server")
_TEXT: Final = frozenset({".csv", ".json", ".py", ".toml", ".tsv", ".txt"})
_DIGEST_BYTES: Final = 12


def fingerprint(registry: Registry) -> str:
    """The fingerprint of the library with the plugins of a registry.

    Args:
        registry: The plugins in use.

    Returns:
        24 hexadecimal digits.
    """
    digest = hashlib.blake2b(digest_size=_DIGEST_BYTES)
    packages = set(_OWN)
    for plugin in registry.plugins:
        digest.update(repr((plugin.name, plugin.version, plugin.enabled)).encode())
        if plugin.enabled and plugin.entry_point:
            packages.add(plugin.entry_point.partition(":")[0].partition(".")[0])
    for package in sorted(packages):
        digest.update(_digest_of(package))
    # What is made when it is loaded, and stands in no file as it is.
    for name, instrument in sorted(registry.instruments.items()):
        digest.update(repr((name, instrument)).encode())
    for kind in (registry.strategies, registry.rhythm_families, registry.exporters):
        digest.update(repr(sorted(kind)).encode())
    return digest.hexdigest()


@functools.cache
def _digest_of(package: str) -> bytes:
    """A digest of the files of a package, which do not change while they are in use."""
    digest = hashlib.blake2b(package.encode())
    for name, content in _files(package):
        digest.update(f"{name} {len(content)}\n".encode())
        digest.update(content)
    return digest.digest()


def _files(package: str) -> Iterator[tuple[str, bytes]]:
    """The files of a package that can change an answer, by name."""
    spec = importlib.util.find_spec(package)
    if spec is None:
        return
    for folder in spec.submodule_search_locations or ():
        root = Path(folder)
        for path in sorted(root.rglob("*")):
            if path.suffix in _TEXT and path.is_file():
                yield path.relative_to(root).as_posix(), path.read_bytes()
    if not spec.submodule_search_locations and spec.origin:
        yield Path(spec.origin).name, Path(spec.origin).read_bytes()
