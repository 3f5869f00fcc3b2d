"""The forms that are asked for, over any screen."""
