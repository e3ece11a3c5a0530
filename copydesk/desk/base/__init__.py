"""What every screen stands on: app base, screen classes, keys, looks, help, clipboard.

May use desk.widgets, desk.wording and below.
Used by the screens, the dialogs and the app.
"""
