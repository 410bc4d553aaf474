"""What is asked and answered apart from any guard: one opening, one meeting of rails."""
