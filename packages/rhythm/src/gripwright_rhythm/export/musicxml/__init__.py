"""MusicXML: scores that any notation program opens, shows, plays and edits."""

from gripwright_rhythm.export.musicxml.exporter import MusicXmlExporter

__all__ = ["MusicXmlExporter"]
