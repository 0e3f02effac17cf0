"""Handbook formulas: plain numbers in, plain numbers out; no files, no site, no units but metres and degrees."""
