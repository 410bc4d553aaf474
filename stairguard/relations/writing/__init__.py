"""Closed forms written down as Python functions, and which of them the package calls."""
