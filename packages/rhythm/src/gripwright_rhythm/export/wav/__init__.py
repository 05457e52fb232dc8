"""Scores as sound: plucked strings and clicks by synthesis, in a WAV file.

A tone is a sum of decaying partials (`partials`): of a plucked string (`plucked_string`) on a
body (`body`), or of a block that is struck (`tick`). `sounding` says which tone starts and ends
at which sample, `tone_store` makes each tone once, `mixing` adds them block by block, and
`exporter` sets the level and writes the file.
"""

from gripwright_rhythm.export.wav.exporter import WavExporter

__all__ = ["WavExporter"]
