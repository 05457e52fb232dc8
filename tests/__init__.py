"""Tests of the four distributions; the folders mirror the sources."""
