"""Pages on rules: findings, inspections, packs, packs compared."""
