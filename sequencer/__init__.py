"""From a drawn woodwork project and a school's workshop to a checked plan of making it, and its sheets."""

__version__ = "0.1.0"
