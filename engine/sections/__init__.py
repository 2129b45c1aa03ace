"""The sections of a plan: one frozen dataclass each, every field described where it is declared."""
