"""Every opening of a guard."""
