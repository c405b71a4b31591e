"""Work on one box and the colony in it: what a form brings, what is done, what the page shows."""
