"""The file of figures: each says how it is known and from where, and none stands there that nobody reads."""

import tomllib
from pathlib import Path
from typing import get_args

from stairguard.model.job import WoodSpecies
from stairguard.model.published import figure_file
from stairguard.model.published.figure_file import FigureTopic, figure, figures, table
from stairguard.model.published.known_figure import Figure, FigureStatus
from stairguard.model.published.wood_shrinkage import SPECIES

TOPICS = get_args(FigureTopic)


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
    for topic in TOPICS:
        for name in figure_file._content(topic):
            if name != "species_notes":
                yield topic, name


def test_every_figure_says_what_it_is_how_it_is_known_and_its_source():
    every = [one for topic, name in told() for one in found(table(topic, name))]
    assert len(every) > 80
    for one in every:
        assert isinstance(one, Figure)
        assert one.what
        assert one.source
        assert "{" not in one.source + one.what
        assert one.status in get_args(FigureStatus)
        assert one.least <= one.value <= one.most


def test_every_table_is_read_and_every_source_is_named():
    folder = Path(figure_file.__file__).parent
    package = "".join(path.read_text(encoding="utf-8") for path in folder.glob("*.py"))
    assert [name for _, name in told() if f'"{name}"' not in package] == []
    for topic in TOPICS:
        file = (folder / f"{topic}_figures.toml").read_text(encoding="utf-8")
        assert [name for name in tomllib.loads(file)["sources"] if f"{{{name}}}" not in file] == []


def test_a_job_may_name_the_woods_that_have_figures():
    assert tuple(SPECIES) == get_args(WoodSpecies)
