"""Slow checks of the models against independent numerical solutions, run before a release."""
