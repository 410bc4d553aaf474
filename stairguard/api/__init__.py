"""What a caller asks: one module a question, flat functions, units taken and given."""
