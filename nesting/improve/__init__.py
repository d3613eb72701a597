"""Local search: ruin and recreate on guillotine trees, from any layouts towards cheaper ones."""
