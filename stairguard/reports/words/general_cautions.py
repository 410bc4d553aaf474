"""What is said with every result, light enough for the quickest answer to load."""

from __future__ import annotations

from typing import Final

EXAMPLE: Final = "BUILT-IN EXAMPLE, not your stair: no job file was given."
"""Said first of the job that ships with the package."""

ALWAYS: Final = (
    "The local code and the authority having jurisdiction decide; this is geometry, not an approval.",
    "Loads on posts, rails and their anchors, strand tension included, need a licensed engineer.",
    "Openings are measured between strands at rest: under force they give way to a larger sphere.",
    "Some places forbid members that can be climbed like a ladder, and strands near level may count as such.",
    "Tensioned strand stores energy and its cut ends are sharp: wear eye protection and gloves.",
)
"""Said with every result, whatever the job."""

LARGER_SPHERE: Final = (
    "The larger sphere of the step triangle was used: some officials accept it only under a rigid bottom rail, and not "
    "under a strand."
)
"""Said wherever a verdict uses it."""

TO_BE_SURE: Final = (
    "TWO FIGURES IN A FIX: the first meets the limit, and measured again with the same tape may be too close to call; "
    'mended to the one "to be sure" it is not.'
)
"""Said wherever a fix has both."""
