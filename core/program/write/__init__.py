"""Writing RS-274 programs by NISTIR 6556, with what controllers differ in kept as data."""
