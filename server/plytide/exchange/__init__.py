"""What leaves for other systems and comes back from them."""
