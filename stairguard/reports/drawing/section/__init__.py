"""Sections square to a guard that stands beside the stair: edge, strands, and the way of the largest sphere."""
