"""Findings are made once, however much is then written of them."""

import pytest

import stairguard
from stairguard.cli.main import main
from stairguard.io.write import render
from stairguard.model.published.probe_forces import NAMED_PUSHES
from stairguard.rules.findings import designed
from stairguard.rules.fixes import fix_search
from stairguard.solve.load import named_forces
from tests.places import ROOT

WRONG = str(ROOT / "tests/golden/jobs/wrong-side.toml")
PUSHED = str(ROOT / "shared/examples/belvedere-taut.toml")


@pytest.fixture
def made(monkeypatch):
    """How often findings on a guard, and what would mend them, were asked for."""
    calls = []

    def counted(module, name):
        made = getattr(module, name)

        def call(*args, **more):
            calls.append(name)
            return made(*args, **more)

        monkeypatch.setattr(module, name, call)

    counted(designed, "inspect_layout")
    counted(designed, "push_fixes")
    counted(fix_search, "mended")
    counted(named_forces, "named_tensions")
    monkeypatch.setattr(render, "save", lambda sheets, folder, stem: ())
    return calls


@pytest.mark.parametrize("form", [(), ("--json",), ("--csv",)])
def test_one_command_makes_them_once(made, tmp_path, form):
    assert main(["layout", WRONG, "--out", str(tmp_path / "out"), *form]) == 1
    assert sorted(made) == ["inspect_layout", "mended", "named_tensions"]


@pytest.mark.parametrize("form", [("--json",), ("--csv",)])
def test_what_named_pushes_would_need_is_worked_out_for_the_page_alone(made, form):
    assert main(["layout", WRONG, *form]) == 1
    assert main(["give", PUSHED, "--json"]) == 0
    assert "named_tensions" not in made
    main(["layout", WRONG])
    assert made.count("named_tensions") == 1


def test_what_named_pushes_would_need_is_told_where_the_job_names_none():
    checked, pushed = (stairguard.lay_out(stairguard.read_job(job)) for job in (WRONG, PUSHED))
    assert len(stairguard.tell(checked).named) == len(NAMED_PUSHES)
    assert stairguard.tell(checked, named=False).named == stairguard.tell(pushed).named == ()
    assert len(stairguard.guard_give(pushed).named) == len(NAMED_PUSHES)


def test_what_would_hold_a_push_is_looked_for_once_and_not_for_data(made, tmp_path):
    main(["give", PUSHED, "--out", str(tmp_path / "out")])
    assert made.count("push_fixes") == 1
    main(["give", PUSHED, "--json"])
    assert made.count("push_fixes") == 1


def test_what_was_told_before_is_written_as_what_was_not():
    checked = stairguard.lay_out(stairguard.read_job(WRONG))
    told, plain = stairguard.tell(checked), stairguard.tell(checked, fixes=False)
    assert told.inspection.findings != plain.inspection.findings
    assert stairguard.result(told) == stairguard.result(checked)
    assert stairguard.result(plain) == stairguard.result(checked, fixes=False)
    assert stairguard.report(told) == stairguard.report(checked)
    assert (
        stairguard.findings_table(told)
        == stairguard.findings_table(checked)
        == stairguard.findings_table(told.inspection)
    )
