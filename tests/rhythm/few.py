"""Fewer examples than usual, for laws over whole scores or over every pattern of a metre."""

from hypothesis import settings

few = settings(max_examples=max(settings().max_examples // 3, 1))
"""A third of the examples of the profile: each one is long to make, and holds many events."""
