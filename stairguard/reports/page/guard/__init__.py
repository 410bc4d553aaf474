"""The page a carpenter works from, part by part."""
