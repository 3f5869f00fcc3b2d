"""What to buy or look for, and the least to keep at hand."""
