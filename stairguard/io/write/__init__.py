"""Folders, drawings and texts written, complete or not at all."""
