"""Published figures: strand, wood, frames, probe forces; each with its source."""
