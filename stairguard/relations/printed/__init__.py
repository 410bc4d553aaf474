"""What the printer writes: the functions that the package calls, and every relation as plain data. No sympy here."""
