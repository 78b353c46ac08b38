"""The shared model: lines, arcs, and what is made of them without fitting anything again."""
