"""The word bank: words that hold a sound at a position, ranked for practice."""
