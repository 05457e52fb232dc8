"""The HTTP surface: the operations for other programs, under ``/v1``.

Thin: a request is validated against the schema of its operation, the operation is called, its
answer is written. Needs the extra ``gripwright-server[http]``.

`create_app` makes a WSGI application for any server, and `gripwright_server.http.server` is what
``gripwright serve`` runs it on.
"""

from gripwright_server.http.app import create_app

__all__ = ["create_app"]
