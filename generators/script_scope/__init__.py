"""Modules of one script in one scope: their words, the names among these, and shorter ones."""
