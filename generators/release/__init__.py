"""What is published: one numbered, checksummed copy of the site, and how a phone gets from one to the next."""
