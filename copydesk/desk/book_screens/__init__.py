"""Screens about the whole book: plan, pace, spaces, skins, assembly, log, overview.

May use desk.dialogs, desk.base and below.
Used by the app.
"""
