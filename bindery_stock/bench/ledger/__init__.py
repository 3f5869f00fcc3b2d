"""Jobs of the ledger: what its screen reads."""
