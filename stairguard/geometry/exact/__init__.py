"""Exact signs of numbers with square roots."""
