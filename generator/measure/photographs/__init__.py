"""Photographs of the walls: their pictures read, their areas reckoned, and what there is to tell of them."""
