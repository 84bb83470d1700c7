"""A book as pages to browse: one module a kind of page, the words those of the screens."""
