"""Words and numbers in, pages out, with the templates that show them."""
