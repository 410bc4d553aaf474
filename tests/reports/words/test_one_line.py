"""Text of anybody's own, made safe for one line."""

from hypothesis import given, settings
from hypothesis import strategies as st

from stairguard.reports.words.one_line import clean


@settings(deadline=None)  # a busy machine is no fault
@given(st.text(max_size=60))
def test_clean_text_is_one_line_without_controls(words):
    cleaned = clean(words)
    assert cleaned == " ".join(cleaned.split())
    assert cleaned.isprintable()
    assert not set(cleaned) & {chr(c) for c in (*range(0x200B, 0x2010), *range(0x202A, 0x202F), 0x2066, 0x2069)}
    assert clean(cleaned) == cleaned
