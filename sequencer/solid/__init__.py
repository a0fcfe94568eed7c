"""Solids: neutral shapes made solid, parts, dry fit. The solid library is known in `solids.py` only."""
