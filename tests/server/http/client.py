"""A test client whose answers in JSON can be looked into."""

from typing import Any, cast

from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse


class Answer(TestResponse):
    """A response; one that is no JSON breaks where its members are looked at."""

    @property
    def json(self) -> Any:  # noqa: ANN401 - JSON
        """The JSON of the body."""
        return self.get_json()


class Client(FlaskClient):
    """A client of an application under test."""

    def open(self, *arguments: Any, **settings: Any) -> Answer:
        """Ask by any method."""
        return cast("Answer", super().open(*arguments, **settings))

    def get(self, *arguments: Any, **settings: Any) -> Answer:
        """Ask by GET."""
        return cast("Answer", super().get(*arguments, **settings))

    def head(self, *arguments: Any, **settings: Any) -> Answer:
        """Ask by HEAD."""
        return cast("Answer", super().head(*arguments, **settings))

    def options(self, *arguments: Any, **settings: Any) -> Answer:
        """Ask by OPTIONS."""
        return cast("Answer", super().options(*arguments, **settings))

    def post(self, *arguments: Any, **settings: Any) -> Answer:
        """Ask by POST."""
        return cast("Answer", super().post(*arguments, **settings))


def client_of(app: Flask) -> Client:
    """A client of an application."""
    return Client(app, app.response_class)
