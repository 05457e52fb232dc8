"""A player's vocabulary on paper: the book of grips, and the plan of the day."""
