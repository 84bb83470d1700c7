"""Pictures as bytes: what they are, and how everything but the picture itself is taken out of them."""
