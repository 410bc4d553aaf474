"""Surveyed points: straightedge, straight rails, figures from lengths."""
