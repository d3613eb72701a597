"""The sheet-metal trade: from a job list to blanks, an order and shop papers."""
