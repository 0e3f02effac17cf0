"""Marks: what a drawing shows, made once for every format that draws it."""
