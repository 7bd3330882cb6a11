"""Formulas as data: read into a small tree, worked out, written as MathML and as JavaScript."""
