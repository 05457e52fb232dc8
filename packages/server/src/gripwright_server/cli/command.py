"""A command made from an operation: its options, its help and its run."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, cast

import attrs
import click

from gripwright_server.cli.parameter import parameter_of
from gripwright_server.cli.session import Session
from gripwright_server.operations import request_fields

if TYPE_CHECKING:
    from attrs import AttrsInstance

    from gripwright_server.operations import Declaration, Operation

_OUTPUT: Final = "Output"
_LIMITED: Final = "limit"
_FORMAT: Final = "Table on a terminal, else NDJSON; or what the ending of FILE says."
_SCORED: Final = (
    "Table on a terminal, else NDJSON; or what the ending of FILE says: svg, pdf, midi, musicxml,"
    " wav, text, csv, json, and what plugins add."
)


class OperationCommand(click.Command):
    """The command of an operation.

    Its options are the declared fields of the request, under their headings, and those that belong
    to a command line alone.

    Args:
        operation: The operation.
        settings: Further settings of the command, as click takes them.
    """

    def __init__(self, operation: Declaration, **settings: Any) -> None:
        self.operation: Final = operation
        fields = request_fields(operation.request)
        self._headings: Final = {field.name: field.heading for field in fields}
        settings.setdefault(
            "no_args_is_help", any(field.required or field.option.document for field in fields)
        )
        super().__init__(
            operation.name,
            params=[*map(parameter_of, fields), *self.surface_options()],
            callback=self._run,
            help=f"{operation.summary}.",
            short_help=operation.summary,
            **settings,
        )

    def surface_options(self) -> list[click.Option]:
        """The options that belong to a command line alone."""
        return _surface_options(self.operation)

    def bound(self, session: Session, values: dict[str, Any]) -> Operation:
        """The operation, ready to run.

        Args:
            session: What this run knows.
            values: The values of the options; those that are none of the request are taken out.
        """
        del session, values
        return cast("Operation", self.operation)

    def format_arguments(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write nothing: arguments stand under the headings of their groups."""

    def format_options(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the options under the headings of their groups."""
        groups: dict[str, list[tuple[str, str]]] = {}
        for parameter in self.get_params(ctx):
            record = parameter.get_help_record(ctx)
            if record is not None:
                heading = self._headings.get(str(parameter.name), _OUTPUT)
                groups.setdefault(heading, []).append(record)
        for heading, records in groups.items():
            with formatter.section(heading):
                formatter.write_dl(records)

    def _run(self, **values: Any) -> int:
        """Run the operation on the values of the options, write the answer, give the exit code."""
        surface = {name: values.pop(name) for name in ("format", "outputs", "force")}
        if values.pop("all", False):
            values[_LIMITED] = None
        # Late on purpose: help needs neither the formats nor the tables.
        from gripwright_server.cli.answer import write_answer  # noqa: PLC0415

        session = click.get_current_context().find_object(Session) or Session()
        operation = self.bound(session, values)
        request: AttrsInstance = operation.request(**values)
        return write_answer(operation, request, session, **surface)


def _surface_options(operation: Declaration) -> list[click.Option]:
    """The options that belong to a command line alone."""
    options = [
        click.Option(
            ["--format"],
            metavar="NAME" if operation.scored else "|".join(("table", *operation.formats)),
            help=_SCORED if operation.scored else _FORMAT,
        ),
        click.Option(
            ["-o", "--output", "outputs"],
            metavar="FILE",
            multiple=True,
            type=click.Path(dir_okay=False, path_type=Path),
            help="Write to a file, which appears whole or not at all; may be given again, and -"
            " is standard output.",
        ),
        click.Option(["--force"], is_flag=True, help="Overwrite files."),
    ]
    if _LIMITED in attrs.fields_dict(operation.request):
        options.insert(0, click.Option(["--all"], is_flag=True, help="Show all, without a limit."))
    return options
