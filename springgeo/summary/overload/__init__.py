"""What an overload leaves: the facts, and the rows that say them."""
