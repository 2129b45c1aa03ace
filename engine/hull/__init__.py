"""Resistance of displacement hulls: form coefficients, one module per method, added resistance."""
