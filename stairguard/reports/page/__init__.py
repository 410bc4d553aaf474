"""Plain pages, at most 100 columns wide."""
