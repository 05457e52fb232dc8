"""One declaration for each field of a request: its constraint, unit and words in one place.

`option` makes an attrs field that checks its values; `request_fields` reads the declarations back,
which is all that a surface needs to offer them: the command line makes its options from them, and
`gripwright_server.operations.schema` a JSON Schema.

A module that declares requests has its annotations evaluated (no ``from __future__ import
annotations``), since the type of a field is read from it.
"""

import functools
import types
import typing
from collections.abc import Iterable
from typing import Any, Final

import attrs

from gripwright.errors import ConditionError, UnknownNameError
from gripwright.named import nearest_names

_KEY: Final = "gripwright_server.option"
_WORDS: Final[dict[type, str]] = {
    bool: "true or false",
    float: "a number",
    int: "a whole number",
    str: "text",
}


@attrs.frozen(kw_only=True)
class Option:
    """What a field of a request says about itself.

    Args:
        help: What the field does, a phrase without a full stop.
        ge: The least value of a number.
        le: The greatest value of a number.
        unit: Unit of a number, such as ``"mm"``.
        choices: The values that a text can take; empty where any text is read.
        names: The mapping of the registry whose names the text can be, such as
            ``"instruments"``; a surface may offer them.
        form: How a value is written, in capitals, such as ``"NOTE"``.
        positional: The field stands without its name where a surface has places for that.
        document: The text is a document, which a surface may take from a file.
        file: The text is that of a whole file, which a surface asks for by its name.
    """

    help: str
    ge: float | None = None
    le: float | None = None
    unit: str | None = None
    choices: tuple[str, ...] = ()
    names: str | None = None
    form: str | None = None
    positional: bool = False
    document: bool = False
    file: bool = False

    @property
    def range(self) -> str:
        """The range of a number in words, such as ``"1 to 5"``; empty where it has none.

        Example:
            >>> Option(help="reach of the hand", ge=1, le=400, unit="mm").range
            '1 to 400 mm'
        """
        unit = f" {self.unit}" if self.unit else ""
        if self.ge is not None and self.le is not None:
            return f"{self.ge:g} to {self.le:g}{unit}"
        if self.ge is not None:
            return f"{self.ge:g}{unit} or more"
        return f"{self.le:g}{unit} or less" if self.le is not None else ""


@attrs.frozen
class RequestField:
    """A declared field of a request, as a surface sees it.

    Args:
        name: Name of the field, and of the option with its underscores as dashes.
        heading: Heading of the group of fields that declares it.
        base: Type of a value, or of each value where there are many: bool, float, int or str.
        many: The field holds a tuple.
        optional: The field can be None, which leaves the choice to the library.
        default: The value where none is given; `attrs.NOTHING` where one must be.
        option: The declaration.

    Example:
        >>> from gripwright_server.operations.player import HandOptions
        >>> fields = {field.name: field for field in request_fields(HandOptions)}
        >>> fields["fingers"].default, fields["fingers"].required
        (4, False)
    """

    name: str
    heading: str
    base: type
    many: bool
    optional: bool
    default: Any
    option: Option

    @property
    def required(self) -> bool:
        """Whether a value must be given."""
        return self.default is attrs.NOTHING

    @property
    def expected(self) -> str:
        """What the field takes, in words.

        Example:
            >>> from gripwright_server.operations.player import HandOptions
            >>> {field.name: field.expected for field in request_fields(HandOptions)}["fingers"]
            'a whole number, 1 to 5'
        """
        words = _WORDS[self.base]
        if self.option.range:
            words = f"{words}, {self.option.range}"
        if self.many:
            words = f"one or more, each {words}"
        return words


def option(
    *,
    help: str,  # noqa: A002 - the word that command lines use
    default: object = attrs.NOTHING,
    ge: float | None = None,
    le: float | None = None,
    unit: str | None = None,
    choices: Iterable[str] = (),
    names: str | None = None,
    form: str | None = None,
    positional: bool = False,
    document: bool = False,
    file: bool = False,
) -> Any:  # noqa: ANN401 - stands where a value of any type is declared
    """Declare a field of a request: validator and description together.

    Args:
        help: What the field does, a phrase without a full stop.
        default: The value where none is given; without it one must be.
        ge: The least value of a number.
        le: The greatest value of a number.
        unit: Unit of a number.
        choices: The values that a text can take.
        names: The mapping of the registry whose names the text can be.
        form: How a value is written, in capitals.
        positional: The field stands without its name where a surface has places for that.
        document: The text is a document, which a surface may take from a file.
        file: The text is that of a whole file, which a surface asks for by its name.

    Returns:
        An attrs field. It raises `UnknownNameError` for a text that is none of the choices and
        `ConditionError` for any other value it does not take.

    Example:
        >>> @attrs.frozen(kw_only=True)
        ... class Request:
        ...     fingers: int = option(help="fingers of the fretting hand", default=4, ge=1, le=4)
        >>> Request(fingers=9)
        Traceback (most recent call last):
        ...
        gripwright.errors.ConditionError: fingers cannot be 9: expected a whole number, 1 to 4
    """
    declared = Option(
        help=help,
        ge=ge,
        le=le,
        unit=unit,
        choices=tuple(choices),
        names=names,
        form=form,
        positional=positional,
        document=document,
        file=file,
    )
    return attrs.field(default=default, validator=_FieldValidator(), metadata={_KEY: declared})


def request_fields(request: type) -> tuple[RequestField, ...]:
    """The declared fields of a request class, those with a place of their own first.

    Args:
        request: An attrs class whose fields are made by `option`.

    Example:
        >>> from gripwright_server.operations.spell import SpellRequest
        >>> [field.name for field in request_fields(SpellRequest)]
        ['symbols', 'literal', 'german', 'dim_is_dim7']
    """
    headings = {
        attribute.name: str(getattr(group, "heading", ""))
        for group in request.__mro__
        if attrs.has(group)
        for attribute in attrs.fields(group)
        if not attribute.inherited
    }
    fields = [
        _field(attribute, headings[attribute.name])
        for attribute in attrs.fields(request)
        if _KEY in attribute.metadata
    ]
    return tuple(sorted(fields, key=lambda field: not field.option.positional))


def unknown_name(kind: str, name: str, known: Iterable[str]) -> UnknownNameError:
    """The error for a name that is none of a short list, with the nearest and with the list.

    Args:
        kind: What the name should name.
        name: The name as given.
        known: The names that there are.

    Example:
        >>> print(unknown_name("stroke", "strumm", ("any", "strum")))
        unknown stroke 'strumm' (did you mean 'strum'?): known are any, strum
    """
    names = tuple(known)
    return UnknownNameError(
        kind=kind,
        name=name,
        nearest=nearest_names(name, names),
        hint=f"known are {', '.join(names)}",
    )


@functools.cache
def _field(attribute: "attrs.Attribute[Any]", heading: str) -> RequestField:
    annotation = attribute.type
    optional = isinstance(annotation, types.UnionType)
    if optional:
        (annotation,) = (part for part in typing.get_args(annotation) if part is not types.NoneType)
    many = typing.get_origin(annotation) is tuple
    base = typing.get_args(annotation)[0] if many else annotation
    if base not in _WORDS:
        message = f"the field {attribute.name!r} has a type that no surface can offer: {base!r}"
        raise TypeError(message)
    return RequestField(
        name=attribute.name,
        heading=heading,
        base=typing.cast("type", base),
        many=many,
        optional=optional,
        default=attribute.default,
        option=attribute.metadata[_KEY],
    )


class _FieldValidator:
    """Judges the values of one field; what the field is, it learns with the first of them."""

    def __init__(self) -> None:
        self._field: RequestField | None = None

    def __call__(self, instance: object, attribute: "attrs.Attribute[Any]", value: object) -> None:
        """Refuse a value that the field does not take."""
        del instance
        field = self._field
        if field is None:
            field = self._field = _field(attribute, "")
        if value is None and field.optional:
            return
        values = value if field.many else (value,)
        if not isinstance(values, tuple) or not values:
            raise ConditionError(name=field.name, value=value, expected=field.expected)
        for one in values:
            if not _fits(field, one):
                raise ConditionError(name=field.name, value=value, expected=field.expected)
        choices = field.option.choices
        for text in values if choices else ():
            if text not in choices:
                raise unknown_name(field.name.replace("_", " "), text, choices)


def _fits(field: RequestField, value: object) -> bool:
    """Whether one value is of the type and in the range; a bool is no number."""
    base = field.base
    if base is bool or base is str:
        return isinstance(value, base)
    kinds = (int,) if base is int else (int, float)
    if not isinstance(value, kinds) or isinstance(value, bool):
        return False
    least, greatest = field.option.ge, field.option.le
    return (least is None or value >= least) and (greatest is None or value <= greatest)
