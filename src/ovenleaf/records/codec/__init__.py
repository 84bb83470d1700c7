"""Pages to values and back: the only room that knows what the keys of a page are called."""
