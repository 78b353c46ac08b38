"""Drawings for the cutter, and readers of them that share nothing with the writers."""
