"""Photo pixels to CIELAB (D50, 2° observer) with uncertainty, and ΔE00. Numbers only."""
