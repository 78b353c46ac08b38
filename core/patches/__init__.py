"""What becomes of every patch, and the shape at its physical size."""
