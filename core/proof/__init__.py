"""Read-back: what the written bytes say, against what the report claims."""
