"""The Ledger: all that happened, in sentences, with the way back beside each."""
