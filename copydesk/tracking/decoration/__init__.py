"""Work beside the text: the artist's spaces and the tally of rubrics, capitals and marks.

May use tracking.views, tracking.state and tracking.ledger.
Used by tracking.scribes, papers, desk and cli.
"""
