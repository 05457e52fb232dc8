"""The commands ``vocabulary ...``, made from the operations on a vocabulary."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from gripwright_server.cli.command import OperationCommand
from gripwright_server.operations import request_fields
from gripwright_server.operations.option import unknown_name
from gripwright_server.operations.stored import store_operations

if TYPE_CHECKING:
    from gripwright_server.cli.session import Session
    from gripwright_server.operations import Operation
    from gripwright_server.operations.vocabulary import StoreOperation

_CONTEXT: Final = {"help_option_names": ["-h", "--help"], "max_content_width": 90}
_STORE: Final = "store"


class StoreCommand(OperationCommand):
    """The command of an operation on a vocabulary, with the option that names its file.

    Args:
        operation: The operation.
    """

    def __init__(self, operation: StoreOperation) -> None:
        self._stored: Final = operation
        required = any(field.required for field in request_fields(operation.request))
        super().__init__(operation, no_args_is_help=required, context_settings=_CONTEXT)

    def surface_options(self) -> list[click.Option]:
        """Those of every command, and the file of the store."""
        store = click.Option(
            [f"--{_STORE}"],
            type=click.Path(dir_okay=False),
            metavar="FILE",
            help="The file of the vocabulary; else what GRIPWRIGHT_STORE names, else one in your"
            " data folder.",
        )
        return [store, *super().surface_options()]

    def bound(self, session: Session, values: dict[str, Any]) -> Operation:
        """The operation at its file, at this moment."""
        # Late on purpose: an extra, as is what the operations themselves need.
        from gripwright_server.store import store_path  # noqa: PLC0415

        path: Path = store_path(values.pop(_STORE))
        return self._stored.at(path, session.now())


class VocabularyGroup(click.Group):
    """The group of all commands on a vocabulary, each made when it is needed."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names of the commands, sorted."""
        del ctx
        return [operation.name for operation in store_operations()]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name."""
        del ctx
        for operation in store_operations():
            if operation.name == cmd_name:
                return StoreCommand(operation)
        return None

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the arguments name; an unknown name is told the nearest ones."""
        name, names = args[0], self.list_commands(ctx)
        if name not in names and not name.startswith("-") and not ctx.resilient_parsing:
            raise unknown_name("vocabulary command", name, names)
        return super().resolve_command(ctx, args)


VOCABULARY: Final = VocabularyGroup(
    "vocabulary",
    help="Your vocabulary of grips: what you know, what is new, what is due today.\n\n"
    "Start with: gripwright vocabulary begin",
    short_help="Keep your vocabulary of grips: what is known, new, and due today",
    context_settings=_CONTEXT,
    no_args_is_help=True,
)
"""The group of commands."""
