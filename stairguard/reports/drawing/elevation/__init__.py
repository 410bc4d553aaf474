"""The annotated elevation of a guard."""
