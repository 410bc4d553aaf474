"""Words on joints: where rails meet and how they are cut, a jog, what strands do there and why."""
