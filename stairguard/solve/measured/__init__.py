"""Figures as measured: what their uncertainty makes of a sphere."""
