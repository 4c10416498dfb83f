"""How an entry's file is written, and how it is changed line by line without losing a comment."""
