"""Films and pictures as phones make them: frames with their times, the moments of a swing, marks that are proposed.

Nothing here is believed: a moment and a mark are proposals until a person confirms them. The libraries of the extra
`film` are imported here alone, each when it is needed.
"""
