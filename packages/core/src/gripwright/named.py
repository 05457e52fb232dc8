"""A read-only mapping by name that helps whoever asks for a name that it has not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from typing import TYPE_CHECKING, Final, TypeVar

from gripwright.errors import UnknownNameError

if TYPE_CHECKING:
    from collections.abc import Iterable

T = TypeVar("T")

_NEAREST: Final = 3
_LONGEST_COMPARED: Final = 64


class Named(Mapping[str, T]):
    """Values by name, in the order they were given; a mapping that cannot be changed.

    Args:
        values: The values by name.
        kind: What one value is called in messages, such as ``"instrument"``.
        hint: A sentence for whoever asks for an unknown name; may be empty.

    Example:
        >>> strings = Named({"guitar": 6, "banjo": 5}, kind="instrument")
        >>> strings["banjo"], list(strings)
        (5, ['guitar', 'banjo'])
        >>> from gripwright import GripwrightError
        >>> try:
        ...     strings["gitar"]
        ... except GripwrightError as error:
        ...     print(error)
        unknown instrument 'gitar' (did you mean 'guitar'?)
    """

    def __init__(self, values: Mapping[str, T], *, kind: str, hint: str = "") -> None:
        self._values: Final = dict(values)
        self._kind: Final = kind
        self._hint: Final = hint

    def __getitem__(self, name: str) -> T:
        try:
            return self._values[name]
        except KeyError:
            # From None: the dict inside is of no interest to whoever misspelt a name.
            raise UnknownNameError(
                kind=self._kind,
                name=name,
                nearest=nearest_names(name, self._values),
                hint=self._hint,
            ) from None

    def __contains__(self, name: object) -> bool:
        return name in self._values

    def __iter__(self) -> Iterator[str]:
        return iter(self._values)

    def __len__(self) -> int:
        return len(self._values)

    def __repr__(self) -> str:
        return f"<Named: {len(self)} of kind {self._kind!r}>"


def nearest_names(name: str, known: Iterable[str]) -> tuple[str, ...]:
    """Return at most three of the known names that resemble a name, best first.

    Names that continue the given one come before those that resemble it letter by letter
    (Ratcliff and Obershelp's measure, as the standard library's ``difflib`` has it).

    Args:
        name: The name as given; case is ignored.
        known: The names that there are, in their order.

    Returns:
        The nearest, or none.

    Example:
        >>> nearest_names("bariton", ["guitar", "baritone-a", "baritone-b", "bass"])
        ('baritone-a', 'baritone-b')
    """
    names = list(known)
    wanted = str(name).lower()[:_LONGEST_COMPARED]
    longer = [known_name for known_name in names if wanted and known_name.startswith(wanted)]
    alike = get_close_matches(wanted, names, n=_NEAREST)
    return tuple(dict.fromkeys((*longer, *alike)))[:_NEAREST]
