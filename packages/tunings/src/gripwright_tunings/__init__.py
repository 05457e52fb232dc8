"""The usual fretted instruments, brought to Gripwright by its public plugin interface.

The definitions are data (``instruments.toml``); ``gripwright_tunings.plugin`` hands them over.
"""
