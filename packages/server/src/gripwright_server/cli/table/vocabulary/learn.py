"""What stands on the screen when the new grip of the day is taken in."""

from gripwright_server.cli.table.vocabulary.add import lines

__all__ = ["lines"]
