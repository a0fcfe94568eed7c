"""Proof by virtual making: carries a plan out on solids, cut by cut, and says what held."""
