"""What a plan comes to: the sheets to order, what they weigh and what they cost."""
