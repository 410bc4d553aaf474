"""Pieces to cut and the stock to cut them from."""
