"""Public functions: lay out a job, report and write it; its rules."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stairguard.io.parse.arguments import read_unit

if TYPE_CHECKING:
    from stairguard.model.findings import Inspection
    from stairguard.model.guard.solved_layout import CheckedLayout
    from stairguard.model.guard.told import ToldLayout
    from stairguard.model.job import Job
    from stairguard.model.rules import RuleSet


def lay_out(job: Job) -> CheckedLayout:
    """Solve a job and hold it to its rules.

    Parameters
    ----------
    job
        From `read_job`, `built_in_job`, or made by hand.

    Returns
    -------
    CheckedLayout
        Everything placed and measured in the job's unit; ``passes`` is the verdict.

    Raises
    ------
    PackError
        The job's rules cannot be read.
    JobError, GeometryError
        The job asks for what cannot be laid out, or no such guard exists. One made by hand is held to all that a file
        is: one fault a mistake.

    Examples
    --------
    >>> from stairguard import built_in_job
    >>> checked = lay_out(built_in_job())
    >>> checked.passes, len(checked.layout.posts), checked.layout.job.unit
    (True, 5, 'in')
    """
    from stairguard.io.read.python_job import check_job
    from stairguard.rules.findings.checks import check
    from stairguard.rules.pack.reader import read_rules as read
    from stairguard.solve.lay_out import lay_out as solve

    check_job(job)
    return check(solve(job, read(job.rules, job.unit)))


def read_rules(name_or_path: str | Path, unit: str = "in") -> RuleSet:
    """Read a rule pack.

    Parameters
    ----------
    name_or_path
        One of `rule_packs`, or the path of a TOML file.
    unit
        ``"in"`` or ``"mm"``, of all its lengths.

    Returns
    -------
    RuleSet
        Its ``rules``, each with clause, figure, status and source.

    Raises
    ------
    InputError
        Another unit.
    PackError
        No such pack, or one that breaks its schema: one fault a mistake.

    Examples
    --------
    >>> rules = read_rules("irc-2021")
    >>> next(rule.value for rule in rules.rules if rule.quantity == "guard height")
    Fraction(36, 1)
    """
    from stairguard.rules.pack.reader import read_rules as read

    return read(str(name_or_path), read_unit(unit))


def tell(checked: CheckedLayout, *, fixes: bool = True, named: bool = True) -> ToldLayout:
    """Find out all that is told of a checked layout, once for whatever is then written of it.

    `result`, `report`, `write` and `findings_table` do so themselves of a layout that was not told before.

    Parameters
    ----------
    checked
        From `lay_out`.
    fixes
        Whether to look for what would mend each breach, and for conflicts that nothing mends, which takes longer than
        all else.
    named
        Whether to work out what would hold the pushes that publications name: the page tells it, the data do not.

    Returns
    -------
    ToldLayout
        Its ``inspection`` has what came of every rule, the gravest first.
    """
    from stairguard.rules.findings.designed import tell as told

    return told(checked, fixes, named)


def _told(guard: CheckedLayout | ToldLayout, fixes: bool = True, named: bool = False) -> ToldLayout:
    from stairguard.model.guard.told import ToldLayout

    return guard if isinstance(guard, ToldLayout) else tell(guard, fixes=fixes, named=named)


def result(checked: CheckedLayout | ToldLayout, *, fixes: bool = True) -> dict[str, Any]:
    """Put a checked layout into plain data, ready for JSON; see `stairguard.reports.data.layout_data`.

    Parameters
    ----------
    checked
        From `lay_out`, or from `tell`.
    fixes
        Of a layout not told before, whether to look for what would mend each breach, which takes longer than all else;
        without it every ``fix`` is null.

    Returns
    -------
    dict
        The keys that the module's docstring lists; lengths in its ``unit``, angles in degrees.
    """
    from stairguard.reports.data.layout_data import result as view

    return view(_told(checked, fixes))


def rule_packs() -> tuple[str, ...]:
    """Names of the rule packs that ship with the package.

    Returns
    -------
    tuple of str
        Sorted; `read_rules` takes any.

    Examples
    --------
    >>> "irc-2021" in rule_packs()
    True
    """
    from stairguard.rules.pack.reader import available

    return available()


def rules_report(packs: RuleSet | Sequence[RuleSet], *, unit: str = "in") -> str:
    """Write one rule pack, clause by clause, or a list of packs, as a plain page.

    Parameters
    ----------
    packs
        From `read_rules`; one alone is shown whole.
    unit
        The one it was read in.

    Returns
    -------
    str
        At most 100 columns, ending in a line break.

    Raises
    ------
    InputError
        Another unit than ``"in"`` or ``"mm"``.
    """
    from stairguard.model.rules import RuleSet
    from stairguard.reports.page.rules.pack_page import pack_text, packs_text

    of = read_unit(unit)
    return pack_text(packs, of) if isinstance(packs, RuleSet) else packs_text(packs)


def rules_result(packs: RuleSet | Sequence[RuleSet], *, unit: str = "in") -> dict[str, Any]:
    """Put one rule pack, or a list of packs, into plain data, ready for JSON.

    Parameters
    ----------
    packs, unit
        As of `rules_report`.

    Returns
    -------
    dict
        See `stairguard.reports.data.pack_data`.

    Raises
    ------
    InputError
        Another unit than ``"in"`` or ``"mm"``.
    """
    from stairguard.model.rules import RuleSet
    from stairguard.reports.data.pack_data import pack_data, packs_data

    of = read_unit(unit)
    return pack_data(packs, of) if isinstance(packs, RuleSet) else packs_data(packs)


def report(checked: CheckedLayout | ToldLayout, *, example: bool = False, head: bool = False) -> str:
    """Write a checked layout as the plain page a carpenter works from.

    Parameters
    ----------
    checked
        From `lay_out`, or from `tell`.
    example
        The job is the one that ships with the package, and the page is to say so first.
    head
        Only how the page starts: what came of it, what fails and how to mend it, what is tight.

    Returns
    -------
    str
        At most 100 columns, ending in a line break; its first line is the result.

    Examples
    --------
    >>> from stairguard import built_in_job
    >>> report(lay_out(built_in_job()), head=True).startswith("COMPLIES with irc-2021")
    True
    """
    if head:
        from stairguard.reports.page.guard.layout_page import report_head

        return report_head(_told(checked), example=example)
    from stairguard.reports.page.guard.layout_page import report as view

    return view(_told(checked, named=True), example=example)


def write(
    checked: CheckedLayout | ToldLayout, folder: str | Path, *, date: str | None = None, example: bool = False
) -> tuple[Path, ...]:
    """Write drawings, lists, result and report into a new folder, complete or not at all.

    Parameters
    ----------
    checked
        From `lay_out`, or from `tell`.
    folder
        Must not exist, or be empty; the folder it goes into must exist.
    date
        ``YYYY-MM-DD``, for the title block; today if not given. Equal layouts with equal dates give equal
        bytes.
    example
        The job is the one that ships with the package, and the report is to say so.

    Returns
    -------
    tuple of Path
        The files, sorted by name.

    Raises
    ------
    InputError
        The date is none.
    OutputError
        The folder is in use or cannot be written; nothing was left behind.
    """
    from stairguard.io.write.folder import write_layout

    return write_layout(_told(checked, named=True), Path(folder), date, example)


def findings_table(found: CheckedLayout | ToldLayout | Inspection) -> str:
    """Write what came of every rule on a layout, or in an inspection, as comma-separated values, the gravest first.

    Parameters
    ----------
    found
        From `lay_out`, `tell` or `inspect`.

    Returns
    -------
    str
        A head line and a line a finding; the ``unit`` of each figure stands beside it.
    """
    from stairguard.model.findings import Inspection
    from stairguard.reports.data.finding_data import findings_csv

    return findings_csv(found if isinstance(found, Inspection) else _told(found).inspection)
