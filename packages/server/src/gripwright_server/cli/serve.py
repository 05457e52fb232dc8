"""The command ``serve``: the operations over HTTP, for other programs on this machine or beyond."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import urlsplit

import click

from gripwright_server.cli.session import Session

if TYPE_CHECKING:
    from collections.abc import Callable

_HOST: Final = re.compile(r"\.?[A-Za-z0-9_-]+(\.[A-Za-z0-9_-]+)*|\[[0-9A-Fa-f:.]+\]")
_MOST_THREADS: Final = 64
_LONGEST_WORK_S: Final = 600.0


def _hosts(ctx: click.Context, parameter: click.Parameter, values: tuple[str, ...]) -> Any:  # noqa: ANN401 - as click has it
    del ctx
    for value in values:
        if not _HOST.fullmatch(value):
            raise click.BadParameter(
                f"{value!r} is no name of a host, such as practice.example", param=parameter
            )
    return values


def _origins(ctx: click.Context, parameter: click.Parameter, values: tuple[str, ...]) -> Any:  # noqa: ANN401 - as above
    del ctx
    for value in values:
        parts = urlsplit(value)
        named = parts.scheme in {"http", "https"} and _HOST.fullmatch(parts.hostname or "")
        if not named or value != f"{parts.scheme}://{parts.netloc}" or "@" in parts.netloc:
            raise click.BadParameter(
                f"{value!r} is no origin, such as https://app.example", param=parameter
            )
    return values


@click.command(
    name="serve",
    short_help="Serve all of this over HTTP, for other programs",
)
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=8000,
    metavar="N",
    help="Port; 0 takes any that is free (default 8000).",
)
@click.option(
    "--host",
    default="127.0.0.1",
    metavar="ADDRESS",
    help="Address to listen on; 0.0.0.0 is every one (default 127.0.0.1).",
)
@click.option(
    "--trusted-host",
    "trusted_hosts",
    multiple=True,
    metavar="NAME",
    callback=_hosts,
    help="A name by which it may be called, beside localhost; needed beyond this machine;"
    " .example.org stands for every name that ends so; may be given again.",
)
@click.option(
    "--origin",
    "origins",
    multiple=True,
    metavar="ORIGIN",
    callback=_origins,
    help="Let pages of this origin read the answers, such as https://app.example; may be given"
    " again.",
)
@click.option(
    "--static",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    metavar="DIR",
    help="Serve the files of this folder beside the API.",
)
@click.option(
    "--store",
    type=click.Path(dir_okay=False, path_type=Path),
    metavar="FILE",
    help="Serve your vocabulary in this file too, under /v1/vocabulary and to this machine alone.",
)
@click.option(
    "--threads",
    type=click.IntRange(1, _MOST_THREADS),
    default=8,
    metavar="N",
    help="Requests that are worked on at once (default 8).",
)
@click.option(
    "--time-limit",
    "time_limit_s",
    type=click.FloatRange(0.1, _LONGEST_WORK_S),
    default=10.0,
    metavar="S",
    help="Seconds that one answer may take to work out (default 10).",
)
@click.pass_context
def SERVE(  # noqa: N802 - a constant of click's making
    ctx: click.Context,
    *,
    port: int,
    host: str,
    trusted_hosts: tuple[str, ...],
    origins: tuple[str, ...],
    static: Path | None,
    store: Path | None,
    threads: int,
    time_limit_s: float,
) -> None:
    """Serve every operation over HTTP, for other programs.

    The documentation is at /v1/docs. Ctrl-C or SIGTERM ends it once the requests in flight are
    answered; a second one ends it at once. Requests are logged on stderr.
    """
    if not trusted_hosts and not _is_loopback(host):
        raise click.UsageError(
            f"beyond this machine ({host}) name the hosts by which it may be called:"
            " --trusted-host NAME"
        )
    if store is not None and (trusted_hosts or not _is_loopback(host)):
        raise click.UsageError(
            "a vocabulary is served to this machine alone: leave out --store, or --trusted-host"
            " and --host"
        )
    create_app, settings_class, server_class, loopback = _surface()
    session = ctx.find_object(Session) or Session()
    app = create_app(
        trusted_hosts=(*loopback, *trusted_hosts),
        origins=origins,
        static=static,
        settings=settings_class(time_limit_s=time_limit_s, sounds_at_once=max(1, threads // 2)),
        registry=session.registry,
        store=store,
        clock=session.now,
    )
    server = server_class(app, host=host, port=port, threads=threads)
    # What every answer needs, so that the first does not wait for it.
    app.extensions["gripwright"].prepare()
    address, bound = server.address
    name = f"[{address}]" if ":" in address else address
    click.echo(
        f"Gripwright listens on http://{name}:{bound}, documentation at /v1/docs; Ctrl-C ends it",
        err=True,
    )
    with server.stopped_by_signals():
        server.run()
    click.echo("Ended", err=True)


def _is_loopback(host: str) -> bool:
    import ipaddress  # noqa: PLC0415 - late on purpose: every command loads this module

    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def _surface() -> tuple[Callable[..., Any], Any, Any, tuple[str, ...]]:
    """The HTTP surface, which few commands need and whose libraries are an extra."""
    try:
        from gripwright_server.http import create_app  # noqa: PLC0415
        from gripwright_server.http.server import Server  # noqa: PLC0415
        from gripwright_server.http.settings import LOOPBACK, Settings  # noqa: PLC0415
    except ModuleNotFoundError as error:
        package = (error.name or "").partition(".")[0]
        if package.startswith("gripwright"):
            raise
        raise click.ClickException(
            f"{package} is not installed: pip install 'gripwright-server[http]'"
        ) from error
    return create_app, Settings, Server, LOOPBACK
