"""The Books place: volumes and sets on the bench."""
