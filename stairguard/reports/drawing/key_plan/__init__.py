"""The small plan that numbers surfaces and names joint posts."""
