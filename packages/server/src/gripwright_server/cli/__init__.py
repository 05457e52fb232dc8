"""The command line: commands made from the operations, formats, and errors in one table."""

from gripwright_server.cli.root import ROOT, main

__all__ = ["ROOT", "main"]
