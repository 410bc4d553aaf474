"""Strands: how many, how high, how they run and end."""
