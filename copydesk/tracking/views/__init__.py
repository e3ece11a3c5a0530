"""Read-outs of the state: a page, a space, a sheet or a skin as screens, papers and verbs show it.

May use tracking.state, tracking.ledger and below.
Used by the other rooms of tracking, papers, desk and cli.
"""
