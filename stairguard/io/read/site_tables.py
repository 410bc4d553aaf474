"""The place of a job file: what it states of its site, what hands hold, rail heights left to the rules."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from stairguard.errors import Fault, PackError
from stairguard.io.read.toml_table import Table
from stairguard.model.job import Handrail, Unit
from stairguard.model.site import Site
from stairguard.model.soundness.table_checks import of_handrail


def _site(table: Table) -> Site:
    """Read ``[site]``: what the job states of its place and use."""
    site = table.fields(Site, but=("own_handrail",))
    table.close()
    return Site(**site)


def read_place(top: Table) -> tuple[Site, Handrail]:
    """Read ``[site]`` and ``[handrail]``: where a handrail of its own is stated, the top rail is none."""
    site = _site(top.table("site", optional=True))
    handrail = _handrail(top.table("handrail", optional=True), site)
    if handrail.height is not None:
        site = replace(site, top_is_handrail=False, own_handrail=True)
    return site, handrail


def _handrail(table: Table, site: Site) -> Handrail:
    """Read ``[handrail]``: what hands hold."""
    handrail = Handrail(**table.fields(Handrail))
    table.file_within(of_handrail(handrail, site.top_is_handrail))
    table.close()
    return handrail


def asked_height(rules: str, unit: Unit, site: Site, kinds: Iterable[str]) -> Fraction | None:
    """The least rail height that the rules ask for over these kinds of surface, None where they ask for none.

    Raises
    ------
    PackError
        The rules cannot be read.
    """
    from stairguard.rules.pack.rail_heights import least_height
    from stairguard.rules.pack.reader import read_rules

    return least_height(read_rules(rules, unit).at(site), kinds, bool(site.own_handrail))


def pack_faults(rules: str, unit: Unit) -> tuple[Fault, ...]:
    """Why these rules cannot be read; none where they can."""
    from stairguard.rules.pack.reader import read_rules

    try:
        read_rules(rules, unit)
    except PackError as error:
        return error.faults
    return ()
