"""What lies between choosing a sheet and writing it: the waiting file, and the keeper's answers."""
