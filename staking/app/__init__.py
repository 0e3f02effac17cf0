"""The program as people meet it: the command line and what it prints."""
