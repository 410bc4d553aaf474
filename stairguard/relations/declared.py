"""All declarations, in the order people read them."""

from __future__ import annotations

from stairguard.relations.declare import Relation
from stairguard.relations.topics import (
    bend,
    compound_cuts,
    pitch,
    post_bores,
    rails_meet,
    step_triangle,
    strand_gaps,
    strand_section,
    tensioned_strand,
)

_TOPICS = (
    step_triangle, pitch, strand_gaps, rails_meet, bend, compound_cuts, post_bores, strand_section, tensioned_strand,
)  # fmt: skip

DECLARED: dict[str, Relation] = {relation.name: relation for topic in _TOPICS for relation in topic.RELATIONS}
