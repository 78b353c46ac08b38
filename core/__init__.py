"""Everything Samecut computes: values in, values out, no window, no state."""
