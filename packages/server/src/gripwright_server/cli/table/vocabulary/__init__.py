"""Tables of a player's vocabulary: how the answer of each of its operations looks."""
