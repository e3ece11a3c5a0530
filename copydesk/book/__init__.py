"""What a book is: sheets, pages, text, hands, spaces and skins, as pure functions and frozen values.

May use the standard library only: no files, no clock, no screen.
Used by every other room.
"""
