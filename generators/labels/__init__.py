"""Stickers for a machine's door: a code to scan, and the same in words."""
