"""The people who write: sittings, shares, pace, hands as measured, and the handover.

May use tracking.fit, tracking.checking, tracking.decoration, tracking.views, tracking.state and tracking.ledger.
Used by tracking.planning, job, papers, desk and cli.
"""
