"""One opening asked about as plain data, ready for JSON."""

from __future__ import annotations

from typing import Any, Final

from stairguard.geometry.clearance.pockets import Pocket
from stairguard.model.asked.asked_opening import Beside, Inverse, Opened, Share, StepMend, Uncertainty
from stairguard.model.outcome import Settling
from stairguard.reports.data.encode import Encoder, Keys, Topic
from stairguard.reports.words.asked.inverse_words import length_words, why_no_greatest
from stairguard.reports.words.uncertainty_words import rule_words


def _fixes(opened: Opened) -> str:
    if not opened.fixes:
        return ""
    from stairguard.reports.words.fix_words import fixes_words  # only where there is one: it loads all kinds of fixes

    return fixes_words(opened.fixes)


OPENING: Final[Topic] = {
    Opened: Keys(
        "unit sphere touches centre limit passes outcome contacts pockets uncertainty fix inverse",
        left_out="form stops outline measurements assumed points binding mends closed_form fixes beside own_diameters",
        or_null="fix",
        made={"fix": _fixes},
        given="pockets uncertainty inverse",
    ),
    Pocket: Keys("sphere centre touches ridge", left_out="diameter sites contacts out error", given="sphere touches"),
    Uncertainty: Keys(
        "standard guard_band rule probability verdict contact_may_change settle settle_plus_minus=alone.plus_minus "
        "settling shares",
        left_out="ratio",  # told in the words of the rule
        made={"settle": lambda uncertainty: uncertainty.alone and uncertainty.alone.again[0]},
        given="rule",
    ),
    Beside: Keys("out contacts_out=contacts error"),
    Settling: Keys(or_null="plus_minus"),
    Share: Keys(
        "measurement=measurement.name value=measurement.value plus_minus=measurement.plus_minus "
        "standard=measurement.standard derivative share=percent"
    ),
    Inverse: Keys(
        "what greatest sphere why instead",
        or_null="why",
        made={"what": length_words, "why": why_no_greatest},
        given="instead",
    ),
    StepMend: Keys("what below=value lift", left_out="by", given="lift"),
}

_encode: Final = Encoder(OPENING)


def opening_result(opened: Opened) -> dict[str, Any]:
    """Put an opening into plain data, ready for JSON.

    Parameters
    ----------
    opened
        From any of the functions that find one.

    Returns
    -------
    dict
        The ``unit``, the largest ``sphere``, what it ``touches``, its ``centre``; the ``limit``, whether the opening
        ``passes``, and its ``outcome`` ("complies", "does not comply" or "too close to call", null without a limit):
        the verdict of the uncertainty where a length has its own or a tape is named, else the exact one, the usual
        tape's told beside; ``contacts``, where it touches, in the order of ``touches``. Then

        - where strands stand out from the stair or an edge only: how far ``out`` from its side the centre is, level,
          ``contacts_out``, the same of ``contacts``, and ``error``, what the sphere may be too large by where no
          contacts hold it, else 0; of an edge ``centre`` and ``contacts`` are along it and up;
        - of outlines only ``pockets``, the largest first: the ``sphere`` of each, its ``centre``, what it ``touches``,
          and its ``ridge``, the two ends of a line of equal centres, or null;
        - ``uncertainty``, null where all lengths are taken as exact: ``standard``, the ``guard_band`` and its ``rule``
          in words; the ``probability`` that it complies and the ``verdict``, both null without a limit; whether what
          the sphere touches may change within it (``contact_may_change``); ``settling``, null unless it is too close
          to call: the measurements that, taken ``again``, each to ``plus_minus``, would settle it (none where no tape
          can be read so finely, or at the tie); ``settle`` and ``settle_plus_minus`` where one is enough, else null;
          ``shares`` of the variance, the largest first: the ``measurement``, its ``value``, ``plus_minus`` and
          ``standard`` uncertainty, the ``derivative`` of the sphere by it, and its ``share`` in percent;
        - ``fix``, what would make it comply, off the tape, in words; null where it does or that was not worked out;
        - ``inverse``, null where not asked for: ``what`` ("lift", "height", "spacing", "move of edge 3"), the
          ``greatest`` it may be and the ``sphere`` there, ``why`` not more can be told, or null, and, where no lift
          over the treads will do, or the member stands out from the stair or the edge, ``instead`` another length:
          ``what``, to be less than ``below``, with the ``lift``, or null at an edge, which has none. A lift of nothing
          or less, no member over the treads can have; beside the stair it can.

    Examples
    --------
    >>> from stairguard import strands_opening
    >>> opening_result(strands_opening("3in", "1/8in", limit="4in"))["outcome"]
    'complies'
    """
    u, inverse = opened.uncertainty, opened.inverse
    data = _encode.record(
        opened,
        pockets=[_pocket(opened, pocket) for pocket in opened.pockets],
        uncertainty=None if u is None else _encode.record(u, rule=rule_words(u, opened.unit)),
        inverse=None if inverse is None else _encode.record(inverse, instead=_instead(opened)),
    )
    if opened.of_step or opened.form == "edge":  # whose profile has no other pockets to tell
        del data["pockets"]
    if opened.beside is not None:
        data |= _encode.record(opened.beside)
    return data


def _pocket(opened: Opened, pocket: Pocket) -> dict[str, Any]:
    sphere = opened.sphere if pocket is opened.pockets[0] else pocket.diameter
    return _encode.record(pocket, sphere=sphere, touches=list(opened.outline.names(pocket.sites)))


def _instead(opened: Opened) -> list[dict[str, Any]]:
    """Other lengths, each with the lift that goes with it: its own, or as given."""
    given = next((m.value for m in opened.measurements if m.name == "lift"), None)
    return [_encode.record(mend, lift=_encode(given if mend.lift is None else mend.lift)) for mend in opened.mends]
