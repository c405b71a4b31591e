"""The same answers in a terminal, each also as JSON."""
