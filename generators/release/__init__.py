"""What a build makes of a site: one numbered, checksummed release that knows the earlier ones."""
