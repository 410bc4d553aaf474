"""Drawings as records, in paper millimetres."""
