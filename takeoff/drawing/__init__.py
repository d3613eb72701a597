"""What to draw, as primitives that any writer can paint; nothing here knows a file format."""
