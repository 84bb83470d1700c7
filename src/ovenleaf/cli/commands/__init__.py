"""One thin command a module: words and options in, a job called, a screen or a document out."""
