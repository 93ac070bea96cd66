"""Compiles a therapist's practice programs into small static sites."""
