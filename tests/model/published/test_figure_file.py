"""The file of figures: each says how it is known and from where, and none stands there that nobody reads."""

from pathlib import Path
from typing import get_args

from stairguard.model.published import figure_file
from stairguard.model.published.figure_file import figure, figures, table
from stairguard.model.published.known_figure import Figure, FigureStatus

FILE = Path(figure_file.__file__).with_name("figures.toml").read_text(encoding="utf-8")


def found(told):
    """Every figure within a table of the file."""
    if "of" in told:
        yield from figures(told).values()
    elif "what" in told:
        yield figure(told)
    else:
        for within in told.values():
            yield from found(within) if isinstance(within, dict) else ()


def told():
    return [name for name in figure_file._content() if name not in ("sources", "species_notes")]


def test_every_figure_says_what_it_is_how_it_is_known_and_its_source():
    every = [one for name in told() for one in found(table(name))]
    assert len(every) > 80
    for one in every:
        assert isinstance(one, Figure)
        assert one.what
        assert one.source
        assert "{" not in one.source + one.what
        assert one.status in get_args(FigureStatus)
        assert one.least <= one.value <= one.most


def test_every_table_is_read_and_every_source_is_named():
    package = "".join(path.read_text(encoding="utf-8") for path in Path(figure_file.__file__).parent.glob("*.py"))
    assert [name for name in told() if f'"{name}"' not in package] == []
    assert [name for name in table("sources") if f"{{{name}}}" not in FILE] == []
