"""Files by exporters: which settings of a request reach which exporter."""

from typing import Any

import attrs
import pytest

from gripwright import Hand, Registry, Score, load_registry
from gripwright_server.formats.exported import configured
from gripwright_server.operations.drill import DrillRequest
from gripwright_server.operations.file_options import FileOptions

REGISTRY: Registry = load_registry()


def _settings(kind: Any) -> tuple[str, ...]:  # noqa: ANN401 - a class of a plugin
    return tuple(attrs.fields_dict(kind))


def test_every_setting_of_a_request_is_one_of_an_exporter() -> None:
    """No option of the command line does nothing."""
    known = {name for one in REGISTRY.exporters.values() for name in _settings(type(one))}
    assert {field.name for field in attrs.fields(FileOptions)} <= known


@pytest.mark.parametrize("name", list(REGISTRY.exporters))
def test_defaults_of_the_request_are_those_of_the_exporter(name: str) -> None:
    """Help tells the true defaults, and the bars of the count-in are no setting of a file."""
    exporter: Any = REGISTRY.exporters[name]
    changed: Any = configured(exporter, DrillRequest(chart="| C |"))
    if "hand" in attrs.fields_dict(type(exporter)):
        changed = attrs.evolve(changed, hand=None)
    assert changed == exporter


def test_settings_reach_the_exporter() -> None:
    """A sheet for a left-handed player with a short reach, and a slow strum."""
    request = DrillRequest(chart="| C |", left_handed=True, reach_mm=90.0, strum_ms=40.0)
    sheet = configured(REGISTRY.exporters["pdf"], request)
    assert (sheet.left_handed, sheet.hand) == (True, Hand(reach_mm=90.0))  # type: ignore[attr-defined]
    assert configured(REGISTRY.exporters["midi"], request).strum_ms == 40.0  # type: ignore[attr-defined]


def test_exporter_of_a_stranger_is_taken_as_it_is() -> None:
    """What is no attrs value has no settings."""

    class Silent:
        """Writes nothing."""

        name = "silent"
        summary = "nothing"
        suffixes = (".nothing",)
        media_type = "application/octet-stream"

        def export(self, score: Score, /) -> bytes:
            """Write nothing."""
            del score
            return b""

    silent = Silent()
    assert configured(silent, DrillRequest(chart="| C |")) is silent
