"""What the gate said where something was gone on with, and the reason the binder wrote."""
