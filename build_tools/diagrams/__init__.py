"""Original line drawings, made at build."""
