"""What the sheets on request say, as data for their templates: guide, cards, score, school."""
