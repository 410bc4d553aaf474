"""What a job may be, said once: bounds of its figures, what one table may hold, what may not be together."""
