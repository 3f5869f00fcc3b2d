"""What a binder knows: words, rules and limits, as data and small functions."""
