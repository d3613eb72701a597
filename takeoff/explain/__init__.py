"""Where every number of a fitting comes from, in lines to be read."""
