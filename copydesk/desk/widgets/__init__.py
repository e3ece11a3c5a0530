"""Pieces of screen shared by several screens."""
