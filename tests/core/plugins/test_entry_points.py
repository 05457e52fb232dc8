"""Plugins that installed distributions offer, made as folders on the path."""

import subprocess
import sys
from pathlib import Path

import pytest

from gripwright import PluginError, load_registry

# An installed distribution is a folder of metadata beside its modules (PyPA, "Recording installed
# projects" and "Core metadata"; "Entry points specification").
PLUGIN = '''\
"""Two instruments of one shop."""

from gripwright import Instrument, hookimpl


@hookimpl
def gripwright_instruments():
    """Give the shop's instruments."""
    return [
        Instrument.from_text("D3 A3 D4", frets=12, scale_mm=500.0, id="shop-small"),
        Instrument.from_text("D2 A2 D3 A3", frets=20, scale_mm=700.0, id="shop-large"),
    ]
'''


def install(
    site: Path,
    *,
    distribution: str = "shop-instruments",
    version: str = "2.5",
    entry_points: str | bytes = "[gripwright]\nshop = shop_plugin\n",
    metadata: str | bytes | None = None,
    modules: dict[str, str] | None = None,
) -> None:
    """Install a distribution into a folder, as an installer would leave it."""
    info = site / f"{distribution.replace('-', '_')}-{version}.dist-info"
    info.mkdir()
    if metadata is None:
        metadata = f"Metadata-Version: 2.1\nName: {distribution}\nVersion: {version}\n"
    for name, content in (("METADATA", metadata), ("entry_points.txt", entry_points)):
        data = content if isinstance(content, bytes) else content.encode()
        (info / name).write_bytes(data)
    for module, code in (modules or {}).items():
        (site / f"{module}.py").write_text(code, encoding="utf-8")


@pytest.fixture(name="site")
def _site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return an empty folder on the path; what is imported from it is forgotten afterwards."""
    monkeypatch.syspath_prepend(str(tmp_path))
    for name in ("shop_plugin", "other_plugin"):
        monkeypatch.setitem(sys.modules, name, sys)
        monkeypatch.delitem(sys.modules, name)
    return tmp_path


def test_an_instrument_plugin_works_by_its_entry_point(site: Path) -> None:
    """A stranger's distribution needs a module and an entry point, no more."""
    install(site, modules={"shop_plugin": PLUGIN})
    registry = load_registry(strict=True)
    assert registry.instruments["shop-large"].frets == 20
    (info,) = [info for info in registry.plugins if info.name == "shop"]
    assert (info.distribution, info.version) == ("shop-instruments", "2.5")
    assert info.entry_point == "shop_plugin"
    assert info.instruments == ("shop-small", "shop-large")


def test_a_plugin_works_in_a_program_of_its_own(tmp_path: Path) -> None:
    """The host imports no plugin before the registry is loaded."""
    install(tmp_path, modules={"shop_plugin": PLUGIN})
    program = (
        f"import sys; sys.path.insert(0, {str(tmp_path)!r})\n"
        "import gripwright.plugins\n"
        "assert 'shop_plugin' not in sys.modules\n"
        "print(len(gripwright.load_registry(strict=True).instruments['shop-small'].strings))\n"
    )
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", program], capture_output=True, text=True, check=False
    )
    assert (done.stdout, done.stderr) == ("3\n", "")


def test_a_plugin_that_is_switched_off_is_not_imported(site: Path) -> None:
    """Switching off is a way around a plugin that breaks on import."""
    install(site, modules={"shop_plugin": "raise RuntimeError('no')"})
    registry = load_registry(disabled=["shop"], strict=True)
    assert "shop_plugin" not in sys.modules
    (info,) = [info for info in registry.plugins if info.name == "shop"]
    assert not info.enabled


@pytest.mark.parametrize(
    ("entry_point", "code", "words"),
    [
        ("shop_plugin", None, "ModuleNotFoundError"),
        ("shop_plugin", "def broken(:", "SyntaxError"),
        ("shop_plugin", "raise RuntimeError('no wood')", "RuntimeError: no wood"),
        ("shop_plugin", "import sys; sys.exit(2)", "SystemExit: 2"),
        ("shop_plugin:absent", "", "AttributeError"),
        ("shop_plugin:nothing", "nothing = None", "it is None"),
        ("not a module", "", "cannot be loaded"),
    ],
)
def test_a_plugin_that_cannot_be_loaded_is_named(
    site: Path, entry_point: str, code: str | None, words: str
) -> None:
    """The failure names distribution, version, entry point and the error; the others stand."""
    install(
        site,
        entry_points=f"[gripwright]\nshop = {entry_point}\n",
        modules={} if code is None else {"shop_plugin": code},
    )
    registry = load_registry()
    (failure,) = registry.failures
    for word in ("'shop'", "shop-instruments 2.5", entry_point, words):
        assert word in str(failure)
    assert "guitar" in registry.instruments
    with pytest.raises(PluginError, match="shop-instruments"):
        load_registry(strict=True)


@pytest.mark.parametrize("metadata", ["", b"\xff\xfe\x00broken", "Version: 2.5\n"])
def test_broken_metadata_does_not_stop_a_plugin(site: Path, metadata: str | bytes) -> None:
    """Where the distribution's name cannot be read, its plugin works and is listed without."""
    install(site, metadata=metadata, modules={"shop_plugin": PLUGIN})
    registry = load_registry()
    assert "shop-small" in registry.instruments
    (info,) = [info for info in registry.plugins if info.name == "shop"]
    assert info.distribution == "(unreadable metadata)"


@pytest.mark.parametrize(
    "entry_points", [b"[gripwright]\nshop = \xff\xfe\n", "[gripwright]\nno equals sign\n"]
)
def test_entry_points_that_cannot_be_read_do_not_stop_the_host(
    site: Path, entry_points: str | bytes
) -> None:
    """A broken file of entry points costs its own distribution alone."""
    install(site, entry_points=entry_points)
    registry = load_registry()
    assert "guitar" in registry.instruments
    assert any("shop-instruments" in str(failure) for failure in registry.failures)


def test_broken_entry_points_for_others_are_none_of_our_business(site: Path) -> None:
    """A distribution that offers us nothing is not listed, however broken it is."""
    install(site, entry_points="[somebody.else]\nno equals sign\n")
    assert load_registry(strict=True).failures == ()


def later_on_path(site: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return another empty folder, at the end of the path."""
    later = site / "later"
    later.mkdir()
    monkeypatch.setattr(sys, "path", [*sys.path, str(later)])
    return later


def test_a_distribution_twice_on_the_path_counts_once(
    site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first on the path counts, as it does for imports."""
    install(site, modules={"shop_plugin": PLUGIN})
    install(later_on_path(site, monkeypatch), version="1.0")
    registry = load_registry(strict=True)
    (info,) = [info for info in registry.plugins if info.name == "shop"]
    assert info.version == "2.5"


@pytest.mark.parametrize("swapped", [False, True])
def test_two_distributions_with_one_plugin_name_are_both_named(
    site: Path, monkeypatch: pytest.MonkeyPatch, *, swapped: bool
) -> None:
    """The first by name of distribution stays, wherever the two lie on the path."""
    later = later_on_path(site, monkeypatch)
    first, second = (later, site) if swapped else (site, later)
    install(first, modules={"shop_plugin": PLUGIN})
    install(
        second,
        distribution="another-shop",
        entry_points="[gripwright]\nshop = other_plugin\n",
        modules={"other_plugin": PLUGIN},
    )
    (failure,) = load_registry().failures
    assert failure.plugin.distribution == "shop-instruments"
    assert "another-shop" in failure.reason


def test_two_distributions_of_unreadable_names_are_not_taken_for_one(
    site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What cannot be told apart by name is still not passed over in silence."""
    install(site, metadata="", modules={"shop_plugin": PLUGIN})
    install(later_on_path(site, monkeypatch), metadata="")
    (failure,) = load_registry().failures
    assert "its name is taken" in failure.reason
