"""What a printed sheet says, as data for its template: boxes, words, back."""
