"""Pictures: each shows plain numbers as a shop drawing, says them in words, and lists them as a table."""
