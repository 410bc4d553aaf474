"""Command lines run and refused; job files, the shipped starter with lines changed as a person would change them."""

import functools

import pytest
import typer.main

from stairguard.rim.cli import main
from stairguard.rim.jobfile import starter_text


@pytest.fixture(scope="session", autouse=True)
def _commands_built_once():
    """Keep the parser from one command line to the next: building it anew is most of what a refused one takes."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(typer.main, "get_command", functools.cache(typer.main.get_command))
        yield


@pytest.fixture
def run(capsys):
    """Give a function that runs a command line: status, standard output, lines of standard error."""

    def call(*arguments):
        status = main(list(arguments))
        out, err = capsys.readouterr()
        assert "Traceback" not in err
        return status, out, err.splitlines()

    return call


@pytest.fixture
def refuse(run, tmp_path, monkeypatch):
    """Give a function for a command line that must be refused: its lines; nothing printed or written."""
    monkeypatch.chdir(tmp_path)

    def call(*arguments):
        before = _tree(tmp_path)
        status, out, lines = run(*arguments)
        assert status == 2
        assert out == ""
        assert lines
        assert all(": " in line and len(line) < 600 for line in lines)
        assert _tree(tmp_path) == before
        return lines

    return call


def _tree(folder):
    return {path: path.read_bytes() if path.is_file() else None for path in folder.rglob("*")}


@pytest.fixture
def write_job(tmp_path):
    """Give a function that writes the starter with (old, new) swaps made, and returns its path."""

    def write(*swaps, name="job.toml"):
        text = starter_text()
        for old, new in swaps:
            assert old in text, old  # a swap that finds nothing is a mistake in the test
            text = text.replace(old, new, 1)
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return write
