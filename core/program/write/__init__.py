"""The writer of router programs."""
