"""Open-water series, hull-propeller interaction, cavitation and the equilibrium that couples them."""
