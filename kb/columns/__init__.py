"""The fields of a kind as columns of a sheet: named in the trade's words, read and written by cell."""
