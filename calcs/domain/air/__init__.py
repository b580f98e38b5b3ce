"""Air of a room: readings over time, and openings that let air in."""
