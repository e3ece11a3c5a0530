"""The people who write: sittings, stints, pace, hands as measured, and the handover.

May use tracking.fit, tracking.views, tracking.state and below.
Used by tracking.planning, papers, desk and cli.
"""
