"""The command ``gripwright``: commands from the operations, errors in one table."""

from __future__ import annotations

import sys
from typing import Any, Final

import click

import gripwright
from gripwright_server.cli.command import OperationCommand
from gripwright_server.cli.failure import report
from gripwright_server.cli.serve import SERVE
from gripwright_server.cli.session import Session
from gripwright_server.cli.vocabulary import VOCABULARY
from gripwright_server.operations import LOCAL_OPERATIONS, OPERATIONS
from gripwright_server.operations.clock import local_time
from gripwright_server.operations.option import unknown_name

_OWN: Final[dict[str, click.Command]] = {
    str(command.name): command for command in (SERVE, VOCABULARY)
}
_OFFERED: Final = (*OPERATIONS, *LOCAL_OPERATIONS)
_NAMES: Final = tuple(sorted([*(operation.name for operation in _OFFERED), *_OWN]))
_CONTEXT: Final = {"help_option_names": ["-h", "--help"], "max_content_width": 90}


class Root(click.Group):
    """The group of all commands, each made when it is needed."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names of the commands, sorted."""
        del ctx
        return list(_NAMES)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name: made from its operation, the server, or the vocabulary."""
        del ctx
        if cmd_name in _OWN:
            return _OWN[cmd_name]
        for operation in _OFFERED:
            if operation.name == cmd_name:
                return OperationCommand(operation, context_settings=_CONTEXT)
        return None

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the arguments name; an unknown name is told the nearest ones."""
        name = args[0]
        if name not in _NAMES and not name.startswith("-") and not ctx.resilient_parsing:
            raise unknown_name("command", name, _NAMES)
        return super().resolve_command(ctx, args)

    def main(self, *arguments: Any, **settings: Any) -> Any:  # noqa: ANN401 - click's signature
        """Run as click does, but let the table of errors decide how to end.

        Args:
            arguments: As click takes them.
            settings: As click takes them; with ``standalone_mode=False`` errors are raised.

        Raises:
            SystemExit: With the exit code, save where ``standalone_mode`` is false.
        """
        raising = {**settings, "standalone_mode": False}
        if not settings.get("standalone_mode", True):
            return super().main(*arguments, **raising)
        try:
            code = super().main(*arguments, **raising)
        except Exception as error:  # noqa: BLE001 - those without a row in the table are raised
            code = report(error)
        sys.exit(code if isinstance(code, int) else 0)


def _print_version(ctx: click.Context, parameter: click.Parameter, value: bool) -> None:  # noqa: FBT001
    del parameter
    if value and not ctx.resilient_parsing:
        click.echo(f"gripwright {gripwright.__version__}")
        ctx.exit()


@click.command(cls=Root, context_settings=_CONTEXT)
@click.option(
    "--disable",
    metavar="PLUGIN",
    multiple=True,
    help="Switch a plugin off, by name; may be given again.",
)
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_print_version,
    help="Print the version and exit.",
)
@click.pass_context
def ROOT(ctx: click.Context, disable: tuple[str, ...]) -> None:  # noqa: N802 - a constant of click's making
    """From a chord symbol to every playable voicing on any fretted instrument.

    Start with: gripwright voicings Cmaj9
    """
    # Who runs the command within a program may give a clock in the place of the machine's.
    ctx.obj = Session(disabled=disable, clock=ctx.obj if callable(ctx.obj) else local_time)


def main() -> None:
    """Run the command line on the arguments of the process and exit.

    Example:
        >>> import sys
        >>> from unittest import mock
        >>> with mock.patch.object(sys, "argv", ["gripwright", "--version"]):
        ...     try:
        ...         main()
        ...     except SystemExit as end:
        ...         print(end.code)
        gripwright 0.1.0
        0
    """
    ROOT(prog_name="gripwright")
