"""The guard as solved, stage by stage."""
