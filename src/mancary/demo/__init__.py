"""The bug room of the Fernhollow Field Centre: invented, for demonstration."""

from mancary.demo.making import NAME, make_demo

__all__ = ["NAME", "make_demo"]
