"""Questions the desk asks, each once."""
