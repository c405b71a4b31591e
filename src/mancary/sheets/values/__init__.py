"""Single values as people write them: dates, numbers, amounts, counts, shares, holes."""
