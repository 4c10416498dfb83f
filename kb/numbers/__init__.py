"""Ohms, degrees and kelvin: laws, tolerances, verdicts and the sums around them. Pure numbers."""
