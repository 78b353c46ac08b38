"""Our own icons."""
