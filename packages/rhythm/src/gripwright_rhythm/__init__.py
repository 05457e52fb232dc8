"""Strict-time rhythm for Gripwright.

The package holds its place and its version in the set of four; it has no functions yet.
"""
