"""Regular shapes, when asked: within the noise of the trace, and never beyond it."""
