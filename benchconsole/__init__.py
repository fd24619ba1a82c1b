"""Bench Console: from raw hide to finished piece, at the bench. Version only; imports nothing."""

__version__ = "0.1.0"
