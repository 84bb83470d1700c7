"""What goes out to readers, as text, as HTML, as data; and what the screen says of it."""
