"""A lot described in words, as a deed has it: the calls that are understood, and everything that is not."""
