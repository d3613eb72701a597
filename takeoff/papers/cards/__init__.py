"""Pages of the packet, one kind of card a file."""
