"""Our own readers of drawings; they share nothing with the writers."""
