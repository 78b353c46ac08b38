"""The nest board: a pocket that takes the loose part, and pins that take its film."""
