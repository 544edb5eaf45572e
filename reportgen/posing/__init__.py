"""A figure as it is written -> its joints in space: one body for the demo's golfer and for the drills."""
