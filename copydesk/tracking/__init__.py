"""What has happened to a book and what follows from it: entries, state, reports, forecasts.

May use comparing and book; pure, no files and no screen.
Used by store, job, papers, desk and cli.
"""
