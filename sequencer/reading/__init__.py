"""Files to model: YAML with line numbers, sizes and their expressions, every error of a file at once."""
