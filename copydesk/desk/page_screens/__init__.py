"""Screens about one page or a list of pages: gatherings, page, sheet, check, handover, remedies.

May use desk.dialogs, desk.base and below.
Used by the app.
"""
