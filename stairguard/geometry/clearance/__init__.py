"""The largest sphere of an outline, every pocket, and how they move."""
