"""The contractor's notes: find the folder, read every entry, keep the place of every word."""
