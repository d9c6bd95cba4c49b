"""Current and voltage of the battery's bus in one step."""
