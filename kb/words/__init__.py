"""What commands and pages say alike, by id: one folder a language, one file a subject."""
