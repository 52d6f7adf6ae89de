"""Plytide: a logbook for people who wear a leg prosthesis, and the small server behind it."""

__version__ = "0.1.0"
