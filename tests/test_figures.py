import json

import pytest

from figures import draw

# The record beside each picture is the witness: it was written when the picture was painted.


@pytest.mark.parametrize("name", sorted(draw.JOBS))
def test_a_picture_is_what_would_be_drawn_now(name):
    record = json.loads((draw.HERE / f"{name}.json").read_text(encoding="utf-8"))
    assert record.pop("drawing") == draw.digest(draw.sheet(name)), "run figures/draw.py: the drawing has changed"
    assert set(record) == {name + ending for ending in draw.ENDINGS}
    for file, digest in record.items():
        assert digest == draw.file_digest(draw.HERE / file), f"{file} was not painted from this record"


def test_no_picture_is_left_over():
    kept = {path.name for path in draw.HERE.iterdir() if path.is_file() and path.name != "draw.py"}
    assert kept == {name + ending for name in draw.JOBS for ending in (*draw.ENDINGS, ".json")}


def test_a_changed_drawing_has_another_digest():
    from dataclasses import replace

    drawing = draw.sheet("quarry")
    assert draw.digest(drawing) != draw.digest(replace(drawing, parts=drawing.parts[:-1]))
