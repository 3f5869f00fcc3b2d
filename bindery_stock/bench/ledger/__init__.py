"""The ledger: what its screen reads; steps taken back, and done again."""
