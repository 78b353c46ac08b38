"""The cut kit: every file of one job, made, reported, proven again."""
