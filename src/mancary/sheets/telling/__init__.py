"""What the words of a journal tell: work done and things seen."""
