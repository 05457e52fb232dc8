"""The surface against its own description, by schemathesis (https://schemathesis.readthedocs.io).

All its checks are on. Unknown symbols, instruments and charts are no matter of a schema: they are
refused by 422, as are cursors of another service; so that status is admitted where the data satisfy
the schema, and the kind of the problem is looked at instead.
"""

from typing import Any

import schemathesis
from hypothesis import HealthCheck, settings
from schemathesis import Case, Response

from gripwright_server.http import create_app
from gripwright_server.http.settings import Settings
from tests.server.http.conftest import registry

APP = create_app(settings=Settings(time_limit_s=5, row_bound=200_000), registry=registry)
SCHEMA = schemathesis.openapi.from_wsgi(
    "/v1/openapi.json",
    APP,
    config=schemathesis.Config.from_dict(
        {"checks": {"positive_data_acceptance": {"expected-statuses": ["2xx", "422"]}}}
    ),
)


@schemathesis.serializer("application/vnd.recordare.musicxml")
def _bytes(context: object, value: object) -> bytes:
    """A compressed lead sheet is bytes; those of a text are none, and are refused."""
    del context
    return str(value).encode("utf-8", "replace")


@schemathesis.check
def refused_by_what_it_means(
    context: schemathesis.CheckContext, response: Response, case: Case[Any]
) -> bool | None:
    """Data that satisfy the schema are never refused as if they did not."""
    del context
    if case.meta is None or not case.meta.generation.mode.is_positive or not response.content:
        return None
    if response.status_code == 422 and case.method == "POST":
        assert response.json()["type"] != "/v1/docs#problem-invalid-request"
    return None


@SCHEMA.parametrize()
@settings(max_examples=25, suppress_health_check=list(HealthCheck))
def test_surface_keeps_to_its_description(case: Case[Any]) -> None:
    """Statuses, media types, headers, schemas; bad data refused, good data taken."""
    case.call_and_validate()
