"""Pages, runtime and frame become one folder, and what is handed out of it."""
