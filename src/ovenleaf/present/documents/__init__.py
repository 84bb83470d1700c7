"""Answers as JSON for scripts, one module for each thing that is answered about."""
