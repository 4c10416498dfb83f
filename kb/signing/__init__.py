"""The keeper's key: made, kept outside the notes, and used to sign what is published."""
