"""Pairs of words that differ in one sound."""
