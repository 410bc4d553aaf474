"""Short answers: an opening, a transition, a formula."""
