"""The gauge: one plate for both machines, what is read on it, and what follows for them."""
