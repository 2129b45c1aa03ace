"""Screens: the list of plans, the pages of a plan, and what is laid over them; with what all of them share."""
