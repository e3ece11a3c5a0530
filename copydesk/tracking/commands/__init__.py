"""What a person may record: works out the facts of an entry from the state, or refuses.

May use tracking.views, tracking.checking, tracking.state and below.
Used by job, and through it by desk and cli.
"""
