"""The command ``rules``: packs listed, one shown, with the status of every figure."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from stairguard.rules.pack.reader import available, read_rules


def test_all_packs_are_listed(run):
    status, text, _ = run("rules")
    assert status == 0
    assert all(f"  {name} " in text for name in available())
    assert max(map(len, text.splitlines())) <= 100
    status, out, _ = run("rules", "--json")
    assert [pack["name"] for pack in json.loads(out)["packs"]] == list(available())


@pytest.mark.parametrize("pack", available())
def test_one_pack_is_shown_with_every_status(run, pack):
    status, text, _ = run("rules", pack)
    assert status == 0
    assert max(map(len, text.splitlines())) <= 100
    status, out, _ = run("rules", pack, "--json", "--unit", "mm")
    data, rules = json.loads(out), read_rules(pack, "mm").rules
    assert [(r["clause"], r["value"], r["status"]) for r in data["rules"]] == [
        (r.clause, float(r.value), r.status) for r in rules
    ]
    assert {r["checked"] for r in data["rules"]} <= {True, False}


def test_what_is_no_pack(refuse):
    (line,) = refuse("rules", "irc-1912")
    assert "a pack's name or the path of a .toml" in line
    (line,) = refuse("rules", "--unit", "yd")
    assert line.startswith("--unit: must be")


def test_packs_are_looked_up_without_sympy_or_matplotlib():
    program = "import sys\nfrom stairguard.cli.main import main\nmain(['rules'])\n"
    program += "print([m for m in ('sympy', 'matplotlib', 'scipy') if m in sys.modules], file=sys.stderr)"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert done.stderr.strip() == "[]"
