// The page, for now: nothing moves.
