"""Details at a larger scale: joints, a step triangle, a survey."""
