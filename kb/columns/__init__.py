"""The fields of a kind as columns of a sheet: their names in the trade's words, and their cells."""
