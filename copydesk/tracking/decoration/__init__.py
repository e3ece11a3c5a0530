"""Work beside the text: the artist's spaces and the tally of rubrics, capitals and marks.

May use tracking.views, tracking.state and below.
Used by papers, desk and cli.
"""
