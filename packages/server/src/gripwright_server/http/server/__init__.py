"""The server of ``gripwright serve``: waitress, with what it leaves to its users.

Waitress gives workers whole requests only, so that a client that is slow to send holds none. Added
here are clients that are slow to read, bounds on how long a client may take, an orderly end, and a
log of requests.
"""

from gripwright_server.http.server.server import Server

__all__ = ["Server"]
