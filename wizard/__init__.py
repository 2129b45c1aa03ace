"""The full-screen terminal wizard and the command line."""
