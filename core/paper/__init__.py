"""Papers and pictures, all drawn on one small Surface."""
