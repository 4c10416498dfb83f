"""What is published: one numbered, checksummed copy of the site, and the ways to it."""
