"""The format of a published release: where its files stand, and how each is read and written."""
