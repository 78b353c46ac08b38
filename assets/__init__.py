"""What Samecut brings along: the demo and tables."""
