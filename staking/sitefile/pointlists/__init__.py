"""Points from anybody: a list of points in whatever way its program wrote it, in columns, with reasons and doubts."""
