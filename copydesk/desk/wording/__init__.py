"""What screens say: rows and sentences made from views, without any widget.

May use tracking, book and job.
Used by the screens, widgets and the line desk.
"""
