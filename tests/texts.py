"""Pages as text for tests: lines joined, so that where they are broken does not matter."""


def flat(text):
    """All words of a text with one blank between."""
    return " ".join(text.split())
