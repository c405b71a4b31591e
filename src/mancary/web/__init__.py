"""The web face: server-rendered pages that work without a script, and their JSON twins."""
