"""Mancary: the stock book and the bench of someone who keeps many colonies of land isopods."""

__version__ = "0.1.0.dev0"
