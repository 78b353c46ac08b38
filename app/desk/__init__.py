"""The window: two facing pages on one ruler; it holds a Job and shows a Build."""
