"""What rules may limit, measured."""
