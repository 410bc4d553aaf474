"""The words of one opening, asked about by itself: its answer, and how far a length of it may go."""
