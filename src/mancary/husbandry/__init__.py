"""The keeper's world: facts, boxes, colonies, and what they add up to."""
