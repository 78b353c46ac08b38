"""From pixels to the Outline."""
