"""The commands that only ask the notes; those that build are the generators'."""
