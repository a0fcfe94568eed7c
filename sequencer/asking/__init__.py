"""What the knowledge says, asked by name or in free words."""
