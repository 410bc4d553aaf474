"""All declarations, in the order people read them."""

from __future__ import annotations

from stairguard.relations import bend, compound, give, meeting, pitch, post, spacing, step, strand
from stairguard.relations.declare import Relation

__all__ = ["DECLARED"]

DECLARED: dict[str, Relation] = {
    relation.name: relation
    for topic in (step, pitch, spacing, meeting, bend, compound, post, strand, give)
    for relation in topic.RELATIONS
}
