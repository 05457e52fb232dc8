"""The options of a command, from the declared fields of its request."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import click
from click.shell_completion import CompletionItem

from gripwright_server.cli.document import Document, WholeFile
from gripwright_server.cli.session import Session

if TYPE_CHECKING:
    from gripwright_server.operations import RequestField

_WIDEST_FORM: Final = 24
_TYPES: Final[dict[type, click.ParamType[Any]]] = {float: click.FLOAT, int: click.INT}


class Text(click.ParamType[str]):
    """A text, completed from the choices of its field or from the names of the registry.

    What it may be is the request's to judge, so that every surface says the same.
    """

    name = "text"

    def __init__(self, field: RequestField) -> None:
        self._field = field

    def shell_complete(
        self, ctx: click.Context, param: click.Parameter, incomplete: str
    ) -> list[CompletionItem]:
        """The names that go on from what is typed."""
        del param
        names = self._field.option.choices
        if self._field.option.names:
            session = ctx.find_object(Session) or Session(quiet=True)
            names = tuple(getattr(session.registry(), self._field.option.names))
        return [CompletionItem(name) for name in names if name.startswith(incomplete)]


class Numbers(click.ParamType[tuple[int, ...]]):
    """Whole numbers with commas between them: ``5,4,3,2``."""

    name = "numbers"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[int, ...]:
        """Read the numbers; spaces beside the commas do not matter."""
        if isinstance(value, tuple):
            return value
        try:
            return tuple(int(part) for part in str(value).split(","))
        except ValueError:
            self.fail(f"{value!r} is not written as whole numbers with commas, 5,4,3,2", param, ctx)


def parameter_of(field: RequestField) -> click.Parameter:
    """The argument or option of a field.

    Args:
        field: A declared field of a request.
    """
    declared = field.option
    if declared.positional:
        return click.Argument(
            [field.name],
            nargs=-1 if field.many else 1,
            required=field.required,
            type=_positional_type(field),
            metavar=f"{declared.form}..." if field.many else declared.form,
            help=_help(field),
        )
    names = [f"--{field.name.replace('_', '-')}", field.name]
    if field.base is bool:
        return click.Option(names, is_flag=True, default=field.default, help=_help(field))
    if field.many and field.base is str:
        return _repeated(field)
    return click.Option(
        names,
        type=_type_of(field),
        default=None if field.required else field.default,
        required=field.required,
        metavar=_form(field),
        help=_help(field),
    )


def _repeated(field: RequestField) -> click.Option:
    """An option that is given once for each of several texts; without one it is None."""
    one = field.name.removesuffix("s").replace("_", "-")

    def none_or_many(
        ctx: click.Context, parameter: click.Parameter, values: tuple[str, ...]
    ) -> tuple[str, ...] | None:
        del ctx, parameter
        return values or None

    return click.Option(
        [f"--{one}", field.name],
        type=Document() if field.option.document else Text(field),
        multiple=True,
        callback=none_or_many,
        metavar=_form(field),
        help=_help(field),
    )


def _positional_type(field: RequestField) -> click.ParamType[Any]:
    if field.option.file:
        return WholeFile()
    return Document() if field.option.document else Text(field)


def _type_of(field: RequestField) -> click.ParamType[Any]:
    if field.many:
        return Numbers()
    return _TYPES.get(field.base) or Text(field)


def _form(field: RequestField) -> str:
    declared = field.option
    if declared.form:
        return declared.form
    if declared.choices:
        short = "|".join(declared.choices)
        return short if len(short) <= _WIDEST_FORM else "NAME"
    if declared.unit:
        return declared.unit.upper()
    return "N" if field.base in {float, int} else "NAME"


def _help(field: RequestField) -> str:
    """Help of a field with its range and its default, as a sentence."""
    declared = field.option
    text = declared.help[:1].upper() + declared.help[1:]
    if declared.document:
        text += "; else a file, MusicXML too, or - for standard input"
    notes = []
    if declared.choices and "|" not in _form(field):
        notes.append(", ".join(declared.choices))
    if declared.range and not field.many:
        notes.append(declared.range)
    if not field.required and field.base is not bool and field.default is not None:
        default = field.default
        notes.append(f"default {default:g}" if field.base is float else f"default {default}")
    return f"{text} ({'; '.join(notes)})." if notes else f"{text}."
