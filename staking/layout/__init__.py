"""What follows from a site file: every point, length, tie and margin, computed once and never edited."""
