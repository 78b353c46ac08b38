"""A strict reader of RS-274 programs, by NISTIR 6556 alone; it knows nothing of the writer."""
