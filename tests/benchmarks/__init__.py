"""Measures of speed and quality; each prints a table."""
