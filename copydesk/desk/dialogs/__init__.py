"""Forms that ask before something is recorded.

May use desk.base, desk.widgets and desk.wording.
Used by the screens.
"""
