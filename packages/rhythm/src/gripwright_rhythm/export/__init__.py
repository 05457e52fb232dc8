"""Exporters: a score as a file, one module or package a format."""
