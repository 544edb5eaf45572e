"""Facts into words: what one reader is told, in that reader's language and units."""
