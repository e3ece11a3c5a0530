"""The passes in which a page is made: what is left to later inks, what may begin, what waits and for what.

May use tracking.views, tracking.state and tracking.ledger.
Used by tracking.binding, commands, decoration, scribes and planning; by papers, desk and cli.
"""
