"""Sets, volumes, their parts and what was done to them."""
