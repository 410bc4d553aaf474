"""Sites at which a rule binds."""

from __future__ import annotations

from stairguard.model.rules import Rule
from stairguard.model.site import Site


def site_of(rule: Rule) -> Site:
    """A site that meets all of a rule's conditions."""
    stated = {}
    for one in rule.when:
        if one.key == "occupancy":
            stated["occupancy"] = one.value[0]
        elif one.key.startswith("drop"):
            stated["drop"] = one.value + (one.key == "drop_more_than")
        elif one.key == "installed_after":
            stated["installed"] = one.value + 1
        elif one.key == "has_handrail":
            stated["top_is_handrail"] = True
        else:
            stated[one.key.removesuffix("_at_most")] = one.value
    return Site(**stated)
