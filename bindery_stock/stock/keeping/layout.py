"""What lies in a stock folder, by name."""

DATABASE = "stock.sqlite"
PHOTOS = "photos"
PREVIEWS = "previews"
BACKUPS = "backups"
OWN_RULES = "rules.toml"
"""The binder's own rules, beside the stock they speak of."""
