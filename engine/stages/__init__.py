"""The chain: one module per stage, plan plus what came before -> answers and findings."""
