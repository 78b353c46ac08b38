"""A second picture that gives the films: brought onto the first by the edges that both show."""
