"""Rule packs: found, read, held to their schema, amended."""
