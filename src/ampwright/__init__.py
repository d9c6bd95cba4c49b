"""Design and proof of auxiliary power systems in touring and working vehicles."""

__version__ = "0.1.0"
__all__ = ["__version__"]
