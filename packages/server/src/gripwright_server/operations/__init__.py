"""The operations: each is declared once here and offered by every surface.

An operation takes a flat request of texts and numbers, turns the names in it into objects of the
library, and answers with rows. Nothing here prints, reads files or knows of a surface.
"""

from typing import Final

from gripwright_server.operations.chart import CHART
from gripwright_server.operations.check import CHECK
from gripwright_server.operations.drill import DRILL
from gripwright_server.operations.explain import EXPLAIN
from gripwright_server.operations.instruments import INSTRUMENTS
from gripwright_server.operations.ladder import LADDER
from gripwright_server.operations.lead import LEAD
from gripwright_server.operations.name import NAME
from gripwright_server.operations.operation import (
    Declaration,
    NothingFoundError,
    Operation,
    RefusedError,
    RegistrySource,
    Result,
)
from gripwright_server.operations.option import RequestField, option, request_fields
from gripwright_server.operations.plugins import PLUGINS
from gripwright_server.operations.rhythms import RHYTHMS
from gripwright_server.operations.schema import request_schema
from gripwright_server.operations.spell import SPELL
from gripwright_server.operations.strategies import STRATEGIES
from gripwright_server.operations.study import STUDY
from gripwright_server.operations.voicings import VOICINGS

OPERATIONS: Final[tuple[Operation, ...]] = (
    CHART,
    DRILL,
    EXPLAIN,
    INSTRUMENTS,
    LADDER,
    LEAD,
    NAME,
    PLUGINS,
    RHYTHMS,
    SPELL,
    STRATEGIES,
    STUDY,
    VOICINGS,
)
"""Every operation that all surfaces offer, by name."""

LOCAL_OPERATIONS: Final[tuple[Operation, ...]] = (CHECK,)
"""Those that a command line alone offers: they run the code of plugins for minutes."""

__all__ = [
    "LOCAL_OPERATIONS",
    "OPERATIONS",
    "Declaration",
    "NothingFoundError",
    "Operation",
    "RefusedError",
    "RegistrySource",
    "RequestField",
    "Result",
    "option",
    "request_fields",
    "request_schema",
]
