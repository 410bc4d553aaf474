"""Codes as data (``packs/*.toml``), their reader, and the checks that apply them to a layout."""
