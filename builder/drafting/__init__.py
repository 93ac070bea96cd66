"""Drafts around a program's own words: practice syllables, phrases, sentences, whole ladders."""
