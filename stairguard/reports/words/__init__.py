"""Facts in English: the only place where they are worded."""
