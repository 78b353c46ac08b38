"""From patches and the face of the part to the films that the cutter cuts."""
