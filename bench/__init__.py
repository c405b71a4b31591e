"""Benchmarks: each a ratio against a raw baseline, measured in one run."""
