"""Forces in tensioned strands: what opens a gap, what slackens a strand, what its ends hand on. Floats and arrays."""
