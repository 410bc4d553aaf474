from stairguard.relations.writing.called import called


def test_functions_are_found_by_every_way_to_take_them(tmp_path) -> None:
    inner = tmp_path / "room"
    inner.mkdir()
    (tmp_path / "whole.py").write_text(
        "from house.printed import arrays, scalars\n\n"
        "def f(up):\n    found = scalars.one if up else scalars.two\n    return found(arrays.elsewhere(3))\n"
    )
    (inner / "named.py").write_text(
        "def f():\n    from house.printed.scalars import three, four as own\n    return own\n"
    )
    (inner / "renamed.py").write_text("from house.printed import scalars as s\ns.five(1)\n")
    (inner / "other.py").write_text("from elsewhere import scalars\nscalars.six(1)\nx.scalars.seven(1)\n")
    assert called("house.printed.scalars", tmp_path) == ("five", "four", "one", "three", "two")
    assert called("house.printed.arrays", tmp_path) == ("elsewhere",)
