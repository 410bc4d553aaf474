"""Plane geometry, exact and in floats: outlines, contacts, the largest sphere and every pocket.

Knows nothing of stairs, units or files: points, edges, strand radii, one unit of length throughout.
"""
