"""The two pictures that are ours: the shelf strip and the box."""
