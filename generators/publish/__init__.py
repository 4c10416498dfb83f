"""What leaves the house: packed, verified, compared, or handed over as one file."""
