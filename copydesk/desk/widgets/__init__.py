"""Widgets and drawings shared by screens: the gathering grid, cells, sheets, plots, panels.

May use desk.wording and below.
Used by desk.base and the screens.
"""
