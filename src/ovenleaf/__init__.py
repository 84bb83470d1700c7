"""ovenleaf: a formula book and bake notebook for people who develop bread by test baking."""

__version__ = "0.1.0"
